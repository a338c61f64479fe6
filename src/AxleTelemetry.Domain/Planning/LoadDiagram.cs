using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Planning;

/// <summary>
/// The load-distribution diagram of one body in one position of the lifts: how much payload is permitted where its centre may be, and what bounds it on each
/// stretch. Exact: every place at which one limit takes over from another is the meeting of two lines, not a sample.
/// </summary>
/// <param name="Configuration">How the axles stand, suspensions normal or as stated.</param>
/// <param name="Body">Whose payload it is.</param>
/// <param name="Binding">By law, papers, ratings and couplings, and where the vehicle can stand: front to rear over the load space.</param>
/// <param name="WithHouseRules">The same with the rules of the house.</param>
public sealed record LoadDiagram(Configuration Configuration, BodyPart Body, ImmutableArray<DiagramStretch> Binding, ImmutableArray<DiagramStretch> WithHouseRules)
{
    /// <summary>Derives the diagram.</summary>
    /// <param name="table">Statics and limits.</param>
    /// <param name="configuration">How the axles stand.</param>
    /// <param name="body">Whose payload varies; it has a load space.</param>
    /// <param name="state">Payload of all bodies; what is not of <paramref name="body"/> stays as it is.</param>
    public static LoadDiagram Of(JudgeTable table, Configuration configuration, BodyPart body, ReadOnlySpan<double> state)
    {
        var sets = Sets(table, configuration with { AtCeiling = 0 }, body, state);
        var space = body.Vehicle.LoadSpace!;
        var range = (space.Front.Metres, space.Rear.Metres);
        return new(configuration, body, Envelope.Of([.. sets.Select(Binds)], range), Envelope.Of(sets, range));
    }

    /// <summary>The stretch at a place within the load space; where two meet, the one behind.</summary>
    public DiagramStretch At(double metres) => Binding.Last(s => s.From <= metres || s == Binding[0]);

    /// <summary>The greatest permitted payload anywhere, kg, and the foremost place for it; <c>null</c> where none is permitted anywhere.</summary>
    public (double Kilograms, double Metres)? Peak
    {
        get
        {
            (double Kilograms, double Metres)? best = null;
            // Between its ends a bound only rises or only falls.
            foreach (var open in Binding.OfType<DiagramStretch.Open>())
                foreach (var x in new[] { open.From, open.To })
                    if (open.Most.At(x) is var most && (best is not { } known || most > known.Kilograms + 1e-6)) best = (most, x);
            return best;
        }
    }

    private static ImmutableArray<BoundLine> Binds(ImmutableArray<BoundLine> lines) =>
        [.. lines.Where(l => l.Limit is not PlanLimit.Of { Margin.Standing: MarginStanding.HouseRule })];

    /// <summary>One set of lines for each set of valves that may hold: which do follows from the payload.</summary>
    private static ImmutableArray<ImmutableArray<BoundLine>> Sets(JudgeTable table, Configuration configuration, BodyPart body, ReadOnlySpan<double> state)
    {
        var sets = ImmutableArray.CreateBuilder<ImmutableArray<BoundLine>>();
        var valves = table.Model.Combination.Axles
            .Where(a => a.Axle is { CeilingForce: not null, RegulatedForce: null } && configuration[a.Index] == AxleState.Loaded)
            .Aggregate(0u, (bits, a) => bits | 1u << a.Index);
        for (uint held = 0; ; held = (held - valves) & valves)
        {
            if (table.Prepared(configuration with { AtCeiling = held }) is { } judged) sets.Add(new BoundSet(table, judged, body, state).Lines);
            if (held == valves) return sets.ToImmutable();
        }
    }
}
