using System.Collections.Immutable;
using AxleTelemetry.Simulator.Chance;
using AxleTelemetry.Simulator.Hauling;
using AxleTelemetry.Simulator.Statics;

namespace AxleTelemetry.Simulator.Days;

/// <summary>Draws what one vehicle does on one day, from its depot and back.</summary>
internal sealed class DayPlan
{
    /// <summary>Where the depot is, metres along the road.</summary>
    public const double Depot = 250;

    private const double Typical = 17, RestAfterMetres = 260_000, LeastApart = 1500;
    private const int Rest = 2700;

    private readonly SimulatedVehicle _vehicle;
    private readonly SeededRandom _random;
    private readonly LoadDraw _loads;
    private readonly Func<ImmutableArray<FleetVehicle>, TrueCombination> _with;
    private readonly double _farthest;
    private readonly List<Act> _acts = [];
    private double _at = Depot;
    private double _sinceRest;

    private DayPlan(SimulatedVehicle vehicle, SeededRandom random, Func<ImmutableArray<FleetVehicle>, TrueCombination> with)
    {
        _vehicle = vehicle;
        _random = random;
        _with = with;
        _loads = new LoadDraw(vehicle.Plan, random.Fork());
        _farthest = Math.Min(vehicle.Route.Road.Metres - Depot, random.Between(3, 6.5) * 3600 * Typical / 2);
    }

    /// <summary>What is done, in order.</summary>
    /// <param name="vehicle">Who.</param>
    /// <param name="trailers">The day's trailers.</param>
    /// <param name="random">Chance of this day.</param>
    /// <param name="with">The powered vehicle with some trailers, as they are on this day.</param>
    public static IReadOnlyList<Act> Draw(
        SimulatedVehicle vehicle, ImmutableArray<FleetVehicle> trailers, SeededRandom random, Func<ImmutableArray<FleetVehicle>, TrueCombination> with)
    {
        var plan = new DayPlan(vehicle, random, with);
        plan.Fill(trailers);
        return plan._acts;
    }

    private void Fill(ImmutableArray<FleetVehicle> trailers)
    {
        Stand(60, 300);
        switch (_vehicle.Kind)
        {
            case UnitKind.TagRigid or UnitKind.PusherRigid or UnitKind.Drawbar: Drops(_with(trailers)); break;
            case UnitKind.Tipper: Tips(_with(trailers)); break;
            case UnitKind.Articulated or UnitKind.PusherArticulated or UnitKind.BareArticulated: Haul(trailers); break;
            default: throw new InvalidOperationException($"Nothing is planned for {_vehicle.Kind}.");
        }

        Drive(Depot);
        Stand(120, 400);
    }

    // One load, given off in some places on the way out; something is taken home now and then.
    private void Drops(TrueCombination truth)
    {
        var load = _loads.Laden(truth);
        Load(load, LoadingPlace.Dock);
        var drops = _random.Whole(2, 5);
        for (var i = 1; i <= drops; i++)
        {
            Drive(_farthest * (i - _random.Between(0, 0.4)) / drops);
            if (_random.Chance(0.2)) Stand(180, 900);
            Load(i == drops ? LoadDraw.Empty(truth) : _loads.Left(truth, load, 1 - i / (double)drops), _random.Pick(LoadingPlace.Yard, LoadingPlace.Dock));
        }

        if (_random.Chance(0.5)) Load(_loads.Part(truth, _random.Between(0.1, 0.6)), LoadingPlace.Yard);
    }

    private void Tips(TrueCombination truth)
    {
        var site = Math.Min(_farthest, _random.Between(9000, 32_000));
        var rounds = _random.Whole(2, 5);
        for (var i = 0; i < rounds; i++)
        {
            if (i > 0) Drive(Depot);
            Load(_loads.Laden(truth), LoadingPlace.Yard);
            Drive(site);
            Load(LoadDraw.Empty(truth), LoadingPlace.Tip);
        }
    }

    private void Haul(ImmutableArray<FleetVehicle> trailers)
    {
        var truth = _with([trailers[0]]);
        Load(_loads.Laden(truth), LoadingPlace.Dock);
        Drive(_farthest * _random.Between(0.35, 0.6));
        if (_random.Chance(0.4)) Load(_loads.Left(truth, ((Act.Load)_acts.Last(a => a is Act.Load)).Then, _random.Between(0.4, 0.7)), LoadingPlace.Yard);
        Drive(_farthest * _random.Between(0.65, 0.8));
        Load(LoadDraw.Empty(truth), LoadingPlace.Dock);
        if (trailers.Length > 1) truth = Swap(trailers[1]);
        else
        {
            Drive(_farthest * _random.Between(0.85, 1));
            Load(_loads.Laden(truth), LoadingPlace.Yard);
        }

        Drive(_farthest * _random.Between(0.1, 0.4));
        Load(_random.Chance(0.5) ? LoadDraw.Empty(truth) : _loads.Part(truth, _random.Between(0.1, 0.5)), LoadingPlace.Dock);
    }

    // The empty trailer stays in one yard, a laden one waits in another.
    private TrueCombination Swap(FleetVehicle next)
    {
        Drive(_farthest * 0.84);
        _acts.Add(new Act.Couple([], []));
        Drive(_farthest * 0.84 + _random.Between(2000, 6000));
        var truth = _with([next]);
        _acts.Add(new Act.Couple([next], _loads.Laden(truth)));
        return truth;
    }

    private void Drive(double to)
    {
        to = Math.Clamp(to, Depot, _vehicle.Route.Road.Metres - 5);
        // Nobody loads in the middle of the sea.
        if (_vehicle.Route.Road.FerryAround(to) is { } ferry) to = to - ferry.Near < ferry.Far - to ? ferry.Near - LeastApart : ferry.Far + LeastApart;
        var way = Math.Abs(to - _at);
        if (way < LeastApart) return;
        if (_sinceRest + way > RestAfterMetres && _sinceRest > 0)
        {
            _acts.Add(new Act.Stand(Rest));
            _sinceRest = 0;
        }

        _acts.Add(new Act.Drive(to));
        _at = to;
        _sinceRest += way;
    }

    private void Load(ImmutableArray<Aboard> then, LoadingPlace where)
    {
        var seconds = where == LoadingPlace.Dock ? _random.Whole(900, 2700) : _random.Whole(240, 900);
        _acts.Add(new Act.Load(then, seconds, where));
    }

    private void Stand(int least, int most) => _acts.Add(new Act.Stand(_random.Whole(least, most)));
}
