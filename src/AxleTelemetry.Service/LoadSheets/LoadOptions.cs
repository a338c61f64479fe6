using System.Collections.Immutable;
using System.CommandLine;
using System.Globalization;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Service.Inputs;

namespace AxleTelemetry.Service.LoadSheets;

/// <summary>The options of <c>loads</c> beside the shared ones. Numbers are read here, so that every slip is told at once and in words.</summary>
internal sealed class LoadOptions
{
    private readonly Option<string[]> _payload = new("--payload")
    {
        Description = "Payload, kg. Of several vehicles that carry, say which: VEHICLE=KG; one not named is empty. May be repeated.",
        HelpName = "[VEHICLE=]KG",
    };

    private readonly Option<string[]> _at = new("--at")
    {
        Description = "Where the payload's centre is, metres from the first axle (semi-trailer: from the kingpin). Default: where the vehicle file expects it.",
        HelpName = "[VEHICLE=]METRES",
    };

    private readonly Option<string[]> _pressure = new("--pressure")
    {
        Description = "Settled bellows pressure of a sensor, kPa. VEHICLE/SENSOR where two vehicles have that sensor. May be repeated.",
        HelpName = "SENSOR=KPA",
    };

    private readonly Option<string[]> _raised = new("--raised") { Description = "Axles that are raised, with commas between.", HelpName = "AXLE" };

    private readonly Option<string[]> _unloaded = new("--unloaded") { Description = "Axles on the road with relieved bellows.", HelpName = "AXLE" };

    private readonly Option<string[]> _mode = new("--mode") { Description = "Suspension mode of the vehicle file. Default: its first, the normal one.", HelpName = "[VEHICLE=]MODE" };

    /// <summary>Adds them all to a command.</summary>
    public void AddTo(Command command)
    {
        foreach (var option in (Option[])[_payload, _at, _pressure, _raised, _unloaded, _mode]) command.Options.Add(option);
    }

    /// <summary>What is asked for; <c>null</c> with every error listed.</summary>
    public LoadOrder? Read(ParseResult parsed, Combination combination, List<InputProblem> errors)
    {
        var lookup = new KeyLookup(combination, errors);
        var present = Present(parsed, combination, lookup, errors);
        string[] payload = parsed.GetValue(_payload) ?? [], at = parsed.GetValue(_at) ?? [], pressure = parsed.GetValue(_pressure) ?? [];
        if (payload.Length > 0 == pressure.Length > 0)
            errors.Add(new("--payload, --pressure", "", payload.Length > 0 ? "both" : "", "State the load in one way: --payload KG, or --pressure SENSOR=KPA for each sensor."));
        if (at.Length > 0 && payload.Length == 0) errors.Add(new("--at", "", "", "It belongs to --payload: from pressures the place is inferred."));
        LoadSource load = payload.Length > 0 ? Stated(payload, at, combination, lookup, errors) : Pressures(pressure, combination, present, lookup, errors);
        return errors.Count == 0 ? new LoadOrder(present, load) : null;
    }

    private Configuration Present(ParseResult parsed, Combination combination, KeyLookup lookup, List<InputProblem> errors)
    {
        var present = default(Configuration);
        var relievable = combination.Axles.Where(a => a.Axle.Lift is { CanUnload: true }).Aggregate(0u, (bits, a) => bits | 1u << a.Index);
        foreach (var key in Keys(parsed.GetValue(_raised)))
            if (lookup.Axle(_raised.Name, key, (combination.Liftable, "axles with a lift")) is { } axle) present = present.With(axle, AxleState.Raised);
        foreach (var key in Keys(parsed.GetValue(_unloaded)))
        {
            if (lookup.Axle(_unloaded.Name, key, (relievable, "axles that can be relieved")) is not { } axle) continue;
            if (present[axle] == AxleState.Raised) errors.Add(new(_unloaded.Name, "", $"'{key}'", "It is raised already."));
            present = present.With(axle, AxleState.Unloaded);
        }

        foreach (var text in parsed.GetValue(_mode) ?? [])
        {
            var (id, name) = Split(text);
            var many = combination.Bodies.Where(b => b.Vehicle.Modes.Length > 1).ToArray();
            if ((id is null ? Only(_mode.Name, many, "several suspension modes", errors) : lookup.Body(_mode.Name, id, [.. combination.Bodies])) is not { } body) continue;
            var mode = body.Vehicle.Modes.Select(m => m.Name).ToList().IndexOf(name);
            if (mode < 0) errors.Add(new(_mode.Name, "", $"'{name}'", $"The modes of {body.Vehicle.Id} are {string.Join(", ", body.Vehicle.Modes.Select(m => m.Name))}."));
            else present = present.WithMode(body.Index, mode);
        }

        return present;
    }

    private LoadSource.Stated Stated(string[] payload, string[] at, Combination combination, KeyLookup lookup, List<InputProblem> errors)
    {
        var carrying = combination.Bodies.Where(b => b.StateIndex >= 0).ToArray();
        var masses = PerBody(_payload, payload, (0, 100_000), carrying, lookup, errors);
        var places = PerBody(_at, at, (-30, 30), carrying, lookup, errors);
        errors.AddRange(places.Where(p => !Holds(p.Key, p.Value)).Select(p => Outside(p.Key, p.Value)));
        return new([.. carrying.Select(b => (Mass.FromKilograms(masses.GetValueOrDefault(b)), Length.FromMetres(places.GetValueOrDefault(b, b.Vehicle.LoadSpace!.Centre.Metres))))]);
    }

    private static bool Holds(BodyPart body, double metres) =>
        metres >= body.Vehicle.LoadSpace!.Front.Metres && metres <= body.Vehicle.LoadSpace.Rear.Metres;

    private InputProblem Outside(BodyPart body, double metres)
    {
        var space = body.Vehicle.LoadSpace!;
        return new(_at.Name, "", FormattableString.Invariant($"'{metres:0.###}'"), FormattableString.Invariant(
            $"The load space of {body.Vehicle.Id} reaches from {space.Front.Metres:0.0##} to {space.Rear.Metres:0.0##} m: the payload's centre lies within it."));
    }

    private static Dictionary<BodyPart, double> PerBody(Option option, string[] texts, (double Least, double Most) range, BodyPart[] carrying, KeyLookup lookup, List<InputProblem> errors)
    {
        var values = new Dictionary<BodyPart, double>();
        foreach (var text in texts)
        {
            var (id, number) = Split(text);
            var body = id is null ? Only(option.Name, carrying, "a load space", errors) : lookup.Body(option.Name, id, carrying);
            if (Number(option.Name, number, range, errors) is not { } value || body is null) continue;
            if (!values.TryAdd(body, value)) errors.Add(new(option.Name, "", $"'{text}'", $"{body.Vehicle.Id} is stated twice."));
        }

        return values;
    }

    private LoadSource.Read Pressures(string[] texts, Combination combination, Configuration present, KeyLookup lookup, List<InputProblem> errors)
    {
        var pressures = new Dictionary<int, Pressure>();
        foreach (var text in texts)
        {
            var (key, number) = Split(text);
            if (key is null)
            {
                errors.Add(new(_pressure.Name, "", $"'{text}'", "Right would be SENSOR=KPA, for example drive=412.5."));
                continue;
            }

            var sensor = lookup.Sensor(_pressure.Name, key);
            if (Number(_pressure.Name, number, (-5, 1600), errors) is not { } kilopascals || sensor is not { } index) continue;
            if (!pressures.TryAdd(index, Pressure.FromKilopascals(kilopascals))) errors.Add(new(_pressure.Name, "", $"'{text}'", "This sensor is stated twice."));
        }

        if (pressures.Count > 0 && pressures.Keys.All(s => combination.Sensors[s].Axles.All(a => present[a] != AxleState.Loaded)))
            errors.Add(new(_pressure.Name, "", string.Join(", ", texts), "These axles are raised or relieved: their pressure is no load. State a sensor of an axle that carries."));
        return new([.. pressures.OrderBy(p => p.Key).Select(p => (p.Key, p.Value))]);
    }

    private static BodyPart? Only(string option, BodyPart[] bodies, string having, List<InputProblem> errors)
    {
        if (bodies.Length == 1) return bodies[0];
        errors.Add(new(option, "", "", bodies.Length == 0 ? $"No vehicle here has {having}."
            : $"Several vehicles have {having}: say which, {string.Join(" or ", bodies.Select(b => $"{b.Vehicle.Id}=..."))}."));
        return null;
    }

    private static double? Number(string option, string text, (double Least, double Most) range, List<InputProblem> errors)
    {
        if (double.TryParse(text, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var value)
            && value >= range.Least && value <= range.Most) return value;
        errors.Add(new(option, "", $"'{text}'", FormattableString.Invariant($"Right would be a number from {range.Least} to {range.Most}, with a point for decimals.")));
        return null;
    }

    private static IEnumerable<string> Keys(string[]? texts) =>
        (texts ?? []).SelectMany(t => t.Split(',', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries));

    private static (string? Name, string Value) Split(string text) =>
        text.IndexOf('=', StringComparison.Ordinal) is var at && at >= 0 ? (text[..at], text[(at + 1)..]) : (null, text);
}
