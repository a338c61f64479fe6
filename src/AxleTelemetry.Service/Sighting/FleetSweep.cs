using System.Collections.Immutable;
using System.Diagnostics;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Service.Overview;
using AxleTelemetry.Service.Serving;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Web.Sight;

namespace AxleTelemetry.Service.Sighting;

/// <summary>Looks at every vehicle that is described, so seldom that it takes a tenth of the time at most, and every two seconds at most.</summary>
internal sealed class FleetSweep(Desks desks, TimeProvider clock)
{
    private const double LeastSeconds = 2, Share = 10, SilentSeconds = 1200;

    private DateTimeOffset _next = DateTimeOffset.MinValue;
    private ImmutableArray<VehicleGlance> _last = [];

    /// <summary>The fleet by name; the same array where it is not time yet, or all is as it was.</summary>
    public async Task<ImmutableArray<VehicleGlance>> ReadAsync(CancellationToken cancel)
    {
        if (clock.GetUtcNow() < _next) return _last;
        var began = Stopwatch.GetTimestamp();
        var names = await FleetAsking.NamesAsync(desks.All, cancel);
        var states = await FleetAsking.StatesAsync(names, cancel);
        var now = clock.Now();
        var glances = states.Where(s => s.IsDescribed).Select(s => Glance(s, now)).ToImmutableArray();
        _next = clock.GetUtcNow().AddSeconds(Math.Max(LeastSeconds, Share * Stopwatch.GetElapsedTime(began).TotalSeconds));
        return _last.SequenceEqual(glances) ? _last : _last = glances;
    }

    /// <summary>A vehicle at a glance.</summary>
    internal static VehicleGlance Glance(VehicleState state, Domain.Quantities.Moment now)
    {
        var view = state.View;
        return new VehicleGlance(state.Name, state.Description.Plate, state.Description.Name, state.Description.Kind, ConditionOf(state, now))
        {
            Behind = state.Behind,
            Trailers = string.Join(" + ", state.Members.Skip(1).Select(m => m.Id)),
            Movement = view?.Movement ?? Movement.Unknown,
            Gross = view?.Gross?.Load,
            HeardAt = state.HeardAt,
            Latitude = view?.Place?.Latitude,
            Longitude = view?.Place?.Longitude,
            Country = view is null || view.Whereabouts.Here.IsNone ? "" : view.Whereabouts.Here.Code,
            IsCorrected = state.CorrectedFrom is not null,
        };
    }

    private static Condition ConditionOf(VehicleState state, Domain.Quantities.Moment now)
    {
        if (state.Behind is not null) return Condition.Behind;
        if (state.HeardAt is not { } heard) return Condition.NeverHeard;
        if (state.View is not { } view) return Condition.NoFigures;
        var overload = view.Open.Where(f => f.Key.Kind == FindingKind.Overload).Select(f => f.Level).DefaultIfEmpty(Level.Clear).Max();
        if (overload == Level.Surely) return Condition.Over;
        if (overload == Level.Likely) return Condition.LikelyOver;
        // A unit that goes off where its vehicle stands does so every evening; one that does while it rolls has lost its connection.
        if (state.Online == false) return view.Movement == Movement.Standing ? Condition.StandingOff : Condition.Silent;
        if (now.SecondsSince(heard) > SilentSeconds) return Condition.Silent;
        if (view.Standing == LoadStanding.None) return Condition.NoFigures;
        var verdicts = view.Axles.Select(a => a.Load?.Closest).Append(view.Gross?.Closest).OfType<Verdict>().ToArray();
        if (verdicts.Any(v => v.CannotTell)) return Condition.CannotTell;
        return overload == Level.Near || verdicts.Any(v => v.Level >= Level.Near) ? Condition.Near : Condition.Within;
    }
}
