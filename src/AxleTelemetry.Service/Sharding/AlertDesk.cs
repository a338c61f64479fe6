using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Telling;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Service.Telling;
using AxleTelemetry.Storage.Rows;

namespace AxleTelemetry.Service.Sharding;

/// <summary>Gives what became known to the alerts, and writes what they tell.</summary>
/// <param name="settings">How alerts are told.</param>
/// <param name="lane">A unit's lane as it is now; <c>null</c> where it has none.</param>
/// <param name="together">Vehicles in versions that were a lane.</param>
internal sealed class AlertDesk(AlertSettings settings, Func<VehicleName, Lane?> lane, Func<ImmutableArray<LaneMember>, Combination> together)
{
    // A habit is kept in seconds and judged by the quarter of an hour.
    private const double HeardEvery = 10;

    /// <summary>The alerts.</summary>
    public AlertBook Book { get; set; } = AlertBook.Empty;

    /// <summary>What lanes said.</summary>
    public void Said(HistoryChange change, BatchDraft draft)
    {
        draft.Said.AddRange(change.Outputs);
        foreach (var (members, output) in change.Outputs)
            if (output is LaneOutput.Episode episode)
                Take(new TellingInput.Said(draft.NextTold(), draft.Now, members[0].Vehicle, episode), draft, _ => together(members));
    }

    /// <summary>What is said of a trailer that hangs on nobody.</summary>
    public void Loose(VehicleName trailer, LaneOutput.Episode said, BatchDraft draft) => Take(new TellingInput.Said(draft.NextTold(), draft.Now, trailer, said), draft, _ => null);

    /// <summary>A unit's history was corrected.</summary>
    public void Corrected(Correction correction, BatchDraft draft)
    {
        draft.Corrected.Add(correction);
        var input = new TellingInput.Corrected(draft.NextTold(), draft.Now, correction.Unit, correction.From, correction.InForce)
        {
            Findings = correction.Found.ToImmutableDictionary(f => f.Key, f => f.Value.Episode),
        };
        Take(input, draft, change => change.Episode is { } said && correction.Found.TryGetValue((said.Key, said.Since), out var found) ? together(found.Members) : Combination(correction.Unit));
    }

    /// <summary>A vehicle was heard; told now and then only.</summary>
    public void Heard(FollowedVehicle vehicle, Moment at, BatchDraft draft)
    {
        if (vehicle.HeardAt is { } before && before > at) return;
        vehicle.HeardAt = at;
        if (vehicle.ToldHeardAt is { } told && at.SecondsSince(told) < HeardEvery) return;
        var days = Days(vehicle.Name);
        vehicle.ToldHeardAt = at;
        Take(new TellingInput.Heard(draft.NextTold(), at, vehicle.Name), draft);
        if (Days(vehicle.Name) != days) draft.Touched.Add((vehicle.Name, Codes.Alerts));
    }

    /// <summary>Time went on. Whose alerts changed by it, first; <c>null</c> where nobody's did.</summary>
    public VehicleName? Tick(BatchDraft draft) => Take(new TellingInput.Tick(draft.NextTold(), draft.Now), draft).Changes is [var first, ..] ? first.Id.Vehicle : null;

    /// <summary>Nothing came of a batch, and its number is used again: what it would tell then has not been told.</summary>
    public void GiveBack(long last)
    {
        var end = new LogPosition(last, int.MaxValue);
        if (Book.Through.CompareTo(end) > 0) Book = Book with { Through = end };
    }

    /// <summary>A person did something.</summary>
    public TellingStep Act(AlertId alert, OperatorAction action, BatchDraft draft) => Take(new TellingInput.Acted(draft.NextTold(), draft.Now, alert, action), draft);

    /// <summary>An alert reached somebody, or did not.</summary>
    public TellingStep Contact(AlertId alert, Contact contact, BatchDraft draft) => Take(new TellingInput.Contacted(draft.NextTold(), draft.Now, alert, contact), draft);

    private int Days(VehicleName vehicle) => Book.Vehicles.GetValueOrDefault(vehicle)?.Hearing.Days.Length ?? -1;

    // By the time it is told the lane may have other vehicles: parts are those of the vehicles that it was said of.
    private TellingStep Take(TellingInput input, BatchDraft draft, Func<AlertChange, Combination?>? saidOf = null)
    {
        var step = Book.Step(input, settings);
        Book = step.Book;
        foreach (var change in step.Changes)
        {
            draft.Add(new TellingRow(Codes.Of(change.Id.Vehicle), Codes.AlertTold, change.Id.ToString())
            {
                At = change.At,
                Bytes = Written(change, saidOf is null ? Combination(change.Id.Vehicle) : saidOf(change)),
            });
            draft.Touched.Add((change.Id.Vehicle, Codes.Alerts));
        }

        return step;
    }

    private Combination? Combination(VehicleName unit) => lane(unit)?.Setup.Combination;

    // Who is called once the backlog is taken was told nothing before: what to do must be in it.
    private AlertChange InFull(AlertChange change) =>
        change is { Cause: AlertCause.HoldsStill, Episode: null } && change.Id.Subject.Finding is { } key && lane(change.Id.Vehicle)?.SayAgain(key) is { } said
            ? change with { Episode = said }
            : change;

    // A fault in the wording must not keep the alert, and everybody else's, from being told.
    private ImmutableArray<byte> Written(AlertChange change, Combination? of)
    {
        var usual = Book.Vehicles.GetValueOrDefault(change.Id.Vehicle)?.Hearing.Usual;
        try
        {
            return [.. AlertChangeJson.Write(InFull(change), of, usual)];
        }
        catch (Exception unworded) when (unworded is ArgumentException or IndexOutOfRangeException or InvalidOperationException or NullReferenceException)
        {
            return [.. AlertChangeJson.Write(change with { Episode = null }, null, usual)];
        }
    }
}
