using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Telling;

/// <summary>
/// The alerts of a shard. What it tells depends on the order in which things became known; given the same inputs it tells
/// the same. A value: a step gives another book.
/// </summary>
public sealed record AlertBook
{
    /// <summary>Nothing told yet.</summary>
    public static AlertBook Empty { get; } = new();

    /// <summary>What it holds, by vehicle.</summary>
    public ImmutableSortedDictionary<VehicleName, VehicleAlerts> Vehicles { get; init; } = ImmutableSortedDictionary<VehicleName, VehicleAlerts>.Empty;

    /// <summary>Last input taken.</summary>
    public LogPosition Through { get; init; }

    /// <summary>Every alert it remembers, by vehicle and then in the order in which they became known.</summary>
    public IEnumerable<Alert> Alerts => Vehicles.Values.SelectMany(v => v.Alerts);

    /// <summary>An alert; <c>null</c> where it is not known or no longer kept.</summary>
    public Alert? Find(AlertId id) =>
        Vehicles.TryGetValue(id.Vehicle, out var vehicle) && vehicle.IndexOf(id) is var index and >= 0 ? vehicle.Alerts[index] : null;

    /// <summary>An alert by the text of its identity; <c>null</c> where it is not known or no longer kept.</summary>
    public Alert? Find(string id) =>
        id.Split('/') is [var fleet, var vehicle, _, _] && Vehicles.TryGetValue(new VehicleName(fleet, vehicle), out var own) ? own.Alerts.FirstOrDefault(a => a.Id.ToString() == id) : null;

    /// <summary>Takes one input. One that was taken before changes nothing.</summary>
    public TellingStep Step(TellingInput input, AlertSettings settings)
    {
        if (input.Position.CompareTo(Through) <= 0) return new TellingStep(this, [], null);
        var pen = new Pen(settings, input.Position, input.At);
        var book = this with { Through = input.Position };
        return input switch
        {
            TellingInput.Said said => Done(book.Change(said.Vehicle, v => Course.Take(v, said.Vehicle, said.Episode, pen)), pen),
            TellingInput.Corrected corrected => Done(book.Change(corrected.Vehicle, v => Correction.Take(v, corrected, pen)), pen),
            TellingInput.Heard heard => Done(book.Change(heard.Vehicle, v => Passing.Hear(v, pen)), pen),
            TellingInput.Tick => Done(book.Pass(pen), pen),
            TellingInput.Acted acted => book.Act(acted, pen),
            TellingInput.Contacted contacted => book.Contact(contacted, pen),
            _ => throw new ArgumentOutOfRangeException(nameof(input), input, "Unknown input."),
        };
    }

    /// <summary>This book with what another holds of one vehicle; as it is where that holds nothing.</summary>
    public AlertBook With(VehicleName vehicle, AlertBook other) =>
        other.Vehicles.TryGetValue(vehicle, out var alerts) ? this with { Vehicles = Vehicles.SetItem(vehicle, alerts) } : this;

    private static TellingStep Done(AlertBook book, Pen pen) => new(book, pen.Changes, null);

    // Every second, over all vehicles, for nearly all of which nothing changes.
    private AlertBook Pass(Pen pen)
    {
        var vehicles = Vehicles;
        foreach (var (name, before) in Vehicles)
            if (Passing.Take(before, name, pen) is var after && !ReferenceEquals(before, after))
                vehicles = vehicles.SetItem(name, after);
        return ReferenceEquals(vehicles, Vehicles) ? this : this with { Vehicles = vehicles };
    }

    private TellingStep Act(TellingInput.Acted acted, Pen pen)
    {
        if (Find(acted.Alert) is not { } alert) return new TellingStep(this, [], ActionRefusal.UnknownAlert);
        return Handling.Refuse(alert, acted.Action, pen) is { } refusal
            ? new TellingStep(this, [], refusal)
            : Done(Put(Handling.Take(alert, acted.Action, pen)), pen);
    }

    private TellingStep Contact(TellingInput.Contacted contacted, Pen pen) => Find(contacted.Alert) is { } alert
        ? Done(Put(Handling.Note(alert, contacted.Contact, pen)), pen)
        : new TellingStep(this, [], ActionRefusal.UnknownAlert);

    private AlertBook Put(Alert alert) => Change(alert.Id.Vehicle, v => v.With(v.IndexOf(alert.Id), alert));

    private AlertBook Change(VehicleName name, Func<VehicleAlerts, VehicleAlerts> change)
    {
        var before = Vehicles.GetValueOrDefault(name, VehicleAlerts.Empty);
        var after = change(before);
        return ReferenceEquals(before, after) ? this : this with { Vehicles = Vehicles.SetItem(name, after) };
    }
}

/// <summary>What an input led to.</summary>
/// <param name="Book">The book after it.</param>
/// <param name="Changes">What is to be told, in order.</param>
/// <param name="Refused">Why a person's action was not taken; <c>null</c> for all else.</param>
public sealed record TellingStep(AlertBook Book, ImmutableArray<AlertChange> Changes, ActionRefusal? Refused);
