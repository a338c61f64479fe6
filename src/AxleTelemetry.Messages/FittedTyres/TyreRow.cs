using System.Collections.Immutable;
using System.Globalization;
using AxleTelemetry.Domain.FittedTyres;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Messages.Topics;
using AxleTelemetry.Messages.VehicleFiles;

namespace AxleTelemetry.Messages.FittedTyres;

/// <summary>One row on its way to an event; what is wrong goes to the common list, so that every field is looked at.</summary>
internal sealed class TyreRow(int line, ImmutableArray<string> header, ImmutableArray<string> fields, List<TyreRowProblem> problems)
{
    private static readonly ImmutableArray<string> Events = ["fitted", "rotated", "removed", "retreaded"];

    public int Line => line;

    /// <summary>The event, or <c>null</c> when anything was wrong.</summary>
    public TyreEvent? Read(Func<string, VehicleDescription?>? describe)
    {
        var before = problems.Count;
        if (fields.Length != header.Length)
        {
            Refuse("row", string.Join(',', fields), $"The header has {header.Length} columns, this line {fields.Length}. Put text with a separator in quotes.");
            return null;
        }

        var (on, tyre, word) = (Date(), Key("tyre"), Event());
        var place = word is "fitted" or "rotated" ? Place(describe) : word is null ? default : NoPlace();
        if (Field("note").Length > 500) Refuse("note", Field("note"), "At most 500 characters are right.");
        return problems.Count > before ? null : word switch
        {
            "fitted" => new TyreEvent.Fitted(on, tyre, place),
            "rotated" => new TyreEvent.Rotated(on, tyre, place),
            "removed" => new TyreEvent.Removed(on, tyre),
            "retreaded" => new TyreEvent.Retreaded(on, tyre),
            _ => throw new InvalidOperationException($"Unknown event '{word}'."),
        };
    }

    private TyrePlace Place(Func<string, VehicleDescription?>? describe)
    {
        var before = problems.Count;
        var (vehicle, axle) = (Key("vehicle"), Key("axle"));
        if (Words.Read<TyrePosition>(Field("position")) is not { } position)
        {
            Refuse("position", Field("position"), $"One of {string.Join(", ", Words.Of<TyrePosition>())} is right.");
            return default;
        }

        var place = new TyrePlace(vehicle, axle, position);
        if (problems.Count > before || describe?.Invoke(vehicle) is not { } described || place.WrongOn(described) is not { } wrong) return place;
        var field = described.IndexOfAxle(axle) < 0 ? "axle" : "position";
        Refuse(field, Field(field), wrong);
        return place;
    }

    private TyrePlace NoPlace()
    {
        foreach (var name in new[] { "vehicle", "axle", "position" })
            if (Field(name).Length > 0)
                Refuse(name, Field(name), $"Left empty for {Field("event")}: the tyre is known to be where it was put.");
        return default;
    }

    private string? Event()
    {
        if (Events.Contains(Field("event"))) return Field("event");
        Refuse("event", Field("event"), $"One of {string.Join(", ", Events)} is right.");
        return null;
    }

    private string Key(string name)
    {
        if (!Id.IsValid(Field(name))) Refuse(name, Field(name), $"{Id.Rule} is right.");
        return Field(name);
    }

    private DateOnly Date()
    {
        if (DateOnly.TryParseExact(Field("date"), "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var date)) return date;
        Refuse("date", Field("date"), "A day as 2026-03-02 is right.");
        return default;
    }

    private string Field(string name)
    {
        var index = header.IndexOf(name);
        return index < 0 ? "" : fields[index];
    }

    private void Refuse(string field, string value, string right) => problems.Add(new(line, field, value, right));
}
