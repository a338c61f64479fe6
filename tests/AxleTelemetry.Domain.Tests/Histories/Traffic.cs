using System.Collections.Immutable;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Domain.Tests.Scenarios;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Simulator.Chance;
using AxleTelemetry.Simulator.Journeys;

namespace AxleTelemetry.Domain.Tests.Histories;

/// <summary>An input of a recording: a reading of a vehicle, or a fact.</summary>
internal abstract record Input(long At)
{
    public sealed record Read(VehicleName Vehicle, Reading Reading) : Input(Reading.At.UnixMilliseconds);

    public sealed record Coupled(CouplingStatement Statement) : Input(Statement.At.UnixMilliseconds);

    public sealed record Set(SettingsVersion Version) : Input(Version.From.UnixMilliseconds);
}

/// <summary>
/// Two tractors that drive journeys of the simulator, each with a semi-trailer of its own; now and then they change trailers, or exchange them,
/// leave one or take one, whatever the loads then look like; limits of another trip are set for them. And a rigid by itself.
/// </summary>
internal sealed class Traffic
{
    private const string Undescribed = "semi-undescribed";

    private static readonly Dictionary<string, LaneSetup> Setups = [];

    private static readonly ImmutableSortedDictionary<string, VehicleDescription> Vehicles = ((string[])
        ["tractor-4x2", "tractor-6x2-pusher", "semi-tridem-lift-first", "semi-bare", "rigid-6x2-tag"])
        .ToImmutableSortedDictionary(name => name, name => Repository.Vehicle(name)!, StringComparer.Ordinal);

    private readonly SeededRandom _random;
    private readonly List<Input> _inputs = [];

    private Traffic(ulong seed) => _random = new SeededRandom(seed);

    public static LaneSetup Setup { get; } = SetupOf([new(Name("tractor-4x2"), 0), new(Name("semi-tridem-lift-first"), 0)]);

    public static ImmutableArray<VehicleName> Units { get; } = [Name("rigid-6x2-tag"), Name("tractor-4x2"), Name("tractor-6x2-pusher")];

    public static HistorySettings Settings { get; } = new() { Setup = SetupOf, IsPowered = v => !v.Id.StartsWith("semi", StringComparison.Ordinal) };

    public static VehicleName Name(string id) => new("north", id);

    /// <summary>Everything that is said, in the order of its moments.</summary>
    public static List<Input> Draw(ulong seed)
    {
        var traffic = new Traffic(seed);
        foreach (var journey in (string[][])[["tractor-4x2", "semi-tridem-lift-first"], ["tractor-6x2-pusher", "semi-bare"], ["rigid-6x2-tag"]])
            traffic.Drive(journey);
        traffic.Couple();
        traffic.SetVersions();
        traffic.Lift();
        traffic.Swap();
        return [.. traffic._inputs.OrderBy(i => i.At)];
    }

    public static LaneSetup SetupOf(ImmutableArray<LaneMember> members)
    {
        var key = string.Join(' ', members);
        lock (Setups)
        {
            if (Setups.TryGetValue(key, out var known)) return known;
            var combination = Assert.IsType<CouplingResult.Coupled>(Combination.Couple(StandInTrailer.Fill([.. members.Select(m => (m.Vehicle.Id, Described(m)))]))).Combination;
            var trip = new LimitContext { Trip = members[0].Version % 2 == 1 ? TripKind.International : TripKind.National };
            return Setups[key] = LaneSetup.FromHandbook(combination, c => MarginTable.For(combination, c, Repository.Limits, trip));
        }
    }

    // Nothing describes it until a version is set for it.
    private static VehicleDescription? Described(LaneMember member) => member.Vehicle.Id != Undescribed ? Vehicles[member.Vehicle.Id] : member.Version > 0 ? Vehicles["semi-bare"] with { Id = Undescribed } : null;

    private void Drive(string[] vehicles)
    {
        var load = FormattableString.Invariant($"load {_random.Between(8, vehicles.Length == 1 ? 17 : 29):0.0} t at {(vehicles.Length == 1 ? 4.3 : 6.0):0.0} m");
        var text = FormattableString.Invariant($"""
            {string.Join('\n', vehicles.Select(v => "vehicle " + v))}
            trip national
            seed {_random.Whole(1, 1000)}

            journey
            {load} in 5 min
            drive 9 km at {_random.Whole(50, 85)} km/h
            stop {_random.Whole(1, 16)} min
            drive 7 km at {_random.Whole(50, 85)} km/h
            {(vehicles[0] == "rigid-6x2-tag" ? "lift tag raised" : vehicles[0] == "tractor-4x2" ? "lift trailer-1 raised" : "stop 1 min")}
            drive 8 km at 70 km/h
            stop 2 min

            findings
            """);
        var result = JourneyText.Read(text, Repository.Vehicle);
        if (result is JourneyResult.Refused refused) Assert.Fail(string.Join('\n', refused.Problems));
        var script = Assert.IsType<JourneyResult.Accepted>(result).Script;
        foreach (var (body, reading) in JourneyReadings.Of(script, JourneyPlayer.Play(script)))
        {
            if (_random.Chance(0.02)) continue;
            _inputs.Add(new Input.Read(Name(vehicles[body]), reading));
            // The same moment said with another value: a conflict.
            if (reading.Kind == ReadingKind.Pressure && _random.Chance(0.01))
                _inputs.Add(new Input.Read(Name(vehicles[body]), reading with { Value = reading.Value + _random.Normal(100) }));
        }

        if (vehicles.Length > 1) Say(vehicles[0], script.Start.UnixMilliseconds - 1, vehicles[1]);
    }

    private void Couple()
    {
        for (var changes = _random.Whole(1, 6); changes > 0; changes--)
            Say(_random.Pick("tractor-4x2", "tractor-6x2-pusher"), SomeMoment(), _random.Pick("semi-tridem-lift-first", "semi-bare", Undescribed, ""));
    }

    /// <summary>The semi-trailer's lift moves, whoever pulls it, or nobody.</summary>
    private void Lift()
    {
        for (var lifts = _random.Whole(2, 8); lifts > 0; lifts--)
            _inputs.Add(new Input.Read(Name("semi-tridem-lift-first"), new Reading(new Moment(SomeMoment()), ReadingKind.Lift, 0, (double)_random.Pick(LiftReport.Raised, LiftReport.Lowered))));
    }

    /// <summary>The tractors exchange their trailers, and after a while perhaps back; each may stand alone for a few minutes in between.</summary>
    private void Swap()
    {
        var at = SomeMoment();
        for (var swaps = _random.Whole(0, 3); swaps > 0; swaps--, at += _random.Whole(60_000, 900_000))
        {
            var turned = swaps % 2 == 0;
            foreach (var (tractor, trailer) in ((string, string)[])[("tractor-4x2", turned ? "semi-tridem-lift-first" : "semi-bare"), ("tractor-6x2-pusher", turned ? "semi-bare" : "semi-tridem-lift-first")])
            {
                if (_random.Chance(0.5)) Say(tractor, at - _random.Whole(1, 300_000), "");
                Say(tractor, at + _random.Whole(0, 1) * _random.Whole(0, 5000), trailer);
            }
        }
    }

    private void SetVersions()
    {
        for (var version = _random.Whole(0, 2); version > 0; version--)
            _inputs.Add(new Input.Set(new SettingsVersion(_random.Pick(Units.AsSpan()), new Moment(SomeMoment()), version)));
        // A description comes for all the time before it, or for what comes after.
        if (_random.Chance(0.7)) _inputs.Add(new Input.Set(new SettingsVersion(Name(Undescribed), _random.Chance(0.5) ? new Moment(SomeMoment()) : FleetHistory.Beginning, 1)));
    }

    private long SomeMoment() => _inputs[_random.Whole(0, _inputs.Count - 1)].At + _random.Whole(0, 1);

    private void Say(string by, long at, string trailer) =>
        _inputs.Add(new Input.Coupled(new CouplingStatement(Name(by), new Moment(at), trailer.Length == 0 ? [] : [Name(trailer)])));
}
