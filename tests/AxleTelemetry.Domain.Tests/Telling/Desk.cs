using System.Collections.Immutable;
using System.Globalization;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Telling;
using AxleTelemetry.Domain.Tests.Wording;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Tests.Telling;

/// <summary>A desk with a book: takes inputs in minutes, remembers all that was told.</summary>
internal sealed class Desk
{
    public static readonly VehicleName Truck = new("north", "RT-1");
    public static readonly FindingKey Drive = Key(MarginKind.Axle, 1);
    public static readonly FindingKey Rear = Key(MarginKind.Group, 1);
    public static readonly FindingKey Steer = Key(MarginKind.SteeringShare, -1);
    public static readonly FindingKey Drift = new(FindingKind.SensorDrifts, default, 0);

    private long _batch;

    public AlertBook Book { get; private set; } = AlertBook.Empty;

    public AlertSettings Settings { get; init; } = new();

    public List<AlertChange> Told { get; } = [];

    public List<TellingInput> Taken { get; } = [];

    public Alert Only => Assert.Single(Book.Alerts);

    public static Moment Min(double minutes) => new((long)Math.Round(minutes * 60_000));

    public static FindingKey Key(MarginKind kind, int element) => new(FindingKind.Overload, new MarginKey(kind, 0, element), -1);

    public TellingStep Take(Func<LogPosition, TellingInput> input)
    {
        var made = input(new LogPosition(++_batch, 0));
        Taken.Add(made);
        var step = Book.Step(made, Settings);
        Book = step.Book;
        Told.AddRange(step.Changes);
        return step;
    }

    /// <summary>A lane says something at once.</summary>
    public TellingStep Say(FindingKey key, double since, EpisodeChange change, Level level, double at, FindingKey? with = null, double? known = null) =>
        Take(p => new TellingInput.Said(p, Min(known ?? at), Truck, Episode(key, since, change, level, at) with { ToldWith = with }));

    public TellingStep Open(double at, Level level = Level.Surely, FindingKey? key = null) => Say(key ?? Drive, at, EpisodeChange.Opened, level, at);

    public TellingStep Close(double since, double at, FindingKey? key = null) => Say(key ?? Drive, since, EpisodeChange.Closed, Level.Clear, at);

    public TellingStep Do(OperatorAction action, double at, AlertId? alert = null) =>
        Take(p => new TellingInput.Acted(p, Min(at), alert ?? Book.Alerts.Last().Id, action));

    public TellingStep Tick(double at) => Take(p => new TellingInput.Tick(p, Min(at)));

    public TellingStep Hear(double at) => Take(p => new TellingInput.Heard(p, Min(at), Truck));

    public TellingStep Correct(double at, double from, params EpisodeInForce[] inForce) =>
        Take(p => new TellingInput.Corrected(p, Min(at), Truck, Min(from), [.. inForce]));

    public static EpisodeInForce InForce(double since, double? ended, Level level = Level.Surely, FindingKey? key = null, FindingKey? with = null) =>
        new(key ?? Drive, Min(since), ended is { } end ? Min(end) : null, level, level, StandingOf(key ?? Drive), with);

    public static LaneOutput.Episode Episode(FindingKey key, double since, EpisodeChange change, Level level, double at)
    {
        FindingDetail detail = new FindingDetail.None();
        if (key.Kind == FindingKind.Overload)
        {
            var verdict = Said.Mass(key.Margin.Kind, key.Margin.Element, 11_500, 900, 250);
            detail = Said.Excess(verdict with { Margin = verdict.Margin with { Standing = StandingOf(key) } });
        }

        return new LaneOutput.Episode(Min(at), key, change, level, Min(since), detail);
    }

    private static MarginStanding StandingOf(FindingKey key) => key.Margin.Kind switch
    {
        _ when key.Kind != FindingKind.Overload => MarginStanding.Law,
        MarginKind.SteeringShare => MarginStanding.HouseRule,
        MarginKind.AxleRating => MarginStanding.Technical,
        _ => MarginStanding.Law,
    };

    /// <summary>A change with all that it carries.</summary>
    public static string Text(AlertChange c) => string.Create(CultureInfo.InvariantCulture,
        $"{c.Id} #{c.Number} {c.At} {c.Position} {c.Cause} {c.State} {c.Priority} {c.Level} x{c.Count} {(c.Rings ? "rings" : "quiet")} [{string.Join(' ', c.With)}] {c.Figures} {c.Source}");
}
