using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Service.Inputs;

namespace AxleTelemetry.Service.LoadSheets;

/// <summary>Finds what an option names: <c>KEY</c>, or <c>VEHICLE/KEY</c> where several vehicles have that key.</summary>
internal sealed class KeyLookup(Combination combination, List<InputProblem> errors)
{
    /// <summary>An axle among those that a bit set allows, counted through the combination; <c>null</c> with an error.</summary>
    public int? Axle(string option, string key, (uint Among, string Which) allowed) => Find(option, key, allowed.Which,
        [.. combination.Axles.Where(a => (allowed.Among >> a.Index & 1) != 0).Select(a => (a.Body, a.Axle.Key, a.Index))]);

    /// <summary>A sensor, counted through the combination; <c>null</c> with an error.</summary>
    public int? Sensor(string option, string key) => Find(option, key, "sensors",
        [.. combination.Sensors.Select(s => (s.Body, s.Sensor.Key, s.Index))]);

    /// <summary>A vehicle among some bodies; <c>null</c> with an error.</summary>
    public BodyPart? Body(string option, string id, BodyPart[] among)
    {
        if (among.FirstOrDefault(b => b.Vehicle.Id == id) is { } body) return body;
        errors.Add(new(option, "", $"'{id}'", among.Length == 0 ? "No vehicle here carries payload." : $"Right would be {string.Join(" or ", among.Select(b => b.Vehicle.Id))}."));
        return null;
    }

    private int? Find(string option, string key, string which, (int Body, string Key, int Index)[] all)
    {
        string Full((int Body, string Key, int Index) one) => $"{combination.Vehicles[one.Body].Id}/{one.Key}";
        var found = all.Where(one => one.Key == key || Full(one) == key).ToArray();
        if (found.Length == 1) return found[0].Index;
        errors.Add(new(option, "", $"'{key}'", found.Length > 1
            ? $"Several have it: {string.Join(" or ", found.Select(Full))}."
            : all.Length == 0 ? $"There are no {which} here." : $"The {which} are {string.Join(", ", all.Select(Full))}."));
        return null;
    }
}
