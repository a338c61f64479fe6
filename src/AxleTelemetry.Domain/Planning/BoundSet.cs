using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Planning;

/// <summary>Everything that bounds one body's payload in one configuration, valves held as it says; the payload of other bodies is fixed.</summary>
internal sealed class BoundSet
{
    private readonly LoadModel _model;
    private readonly LoadMap _map;
    private readonly BodyPart _body;
    private readonly double[] _others;

    /// <param name="table">Statics and limits.</param>
    /// <param name="judged">The configuration with its limits.</param>
    /// <param name="body">Whose payload varies.</param>
    /// <param name="state">Payload of all bodies; that of <paramref name="body"/> does not count.</param>
    public BoundSet(JudgeTable table, JudgedConfiguration judged, BodyPart body, ReadOnlySpan<double> state)
    {
        (_model, _map, _body, _others) = (table.Model, judged.Map, body, state.ToArray());
        (_others[body.StateIndex], _others[body.StateIndex + 1]) = (0, 0);
        var lines = ImmutableArray.CreateBuilder<BoundLine>();
        for (var i = 0; i < judged.Margins.Length; i++) lines.Add(Line(judged.Margins[i], judged.Form(i).Level));
        lines.AddRange(Standing());
        lines.AddRange(Valves());
        Lines = lines.ToImmutable();
    }

    /// <summary>All of them, in a fixed order.</summary>
    public ImmutableArray<BoundLine> Lines { get; }

    private Combination Combination => _model.Combination;

    private IEnumerable<BoundLine> Standing()
    {
        foreach (var part in Combination.Axles)
        {
            var body = Combination.Bodies[part.Body];
            if (Equilibrium.Shares(body, part.Index - body.FirstAxle, _map.Configuration))
                yield return Negative(new PlanLimit.Pulls(part.Index), _map, part.Index, part.Axle.Unsprung.Kilograms);
        }

        foreach (var body in Combination.Bodies.Where(b => b.Vehicle.Kind == VehicleKind.SemiTrailer))
            yield return Negative(new PlanLimit.Pulls(Combination.CouplingRow(body.Index)), _map, Combination.CouplingRow(body.Index), 0);
    }

    /// <summary>Where these valves hold and no others: each held one would let more through, each other one lets everything through.</summary>
    private IEnumerable<BoundLine> Valves()
    {
        foreach (var part in Combination.Axles)
        {
            if (part.Axle.CeilingForce is not { } ceiling || part.Axle.RegulatedForce is not null || _map.Configuration[part.Index] != AxleState.Loaded) continue;
            var (limit, most) = (new PlanLimit.Valve(part.Index), ceiling.Kilograms + part.Axle.Unsprung.Kilograms);
            if (!_map.Configuration.IsAtCeiling(part.Index)) yield return Line(limit, _map.Level(part.Index), most);
            else if (_model.Map(_map.Configuration with { AtCeiling = _map.Configuration.AtCeiling & ~(1u << part.Index) }) is { } open)
                yield return Negative(limit, open, part.Index, most);
        }
    }

    private BoundLine Negative(PlanLimit limit, LoadMap map, int row, double least)
    {
        var line = Line(limit, map.Level(row), least);
        return line with { PerKilogram = -line.PerKilogram, PerMoment = -line.PerMoment, Constant = -line.Constant };
    }

    private BoundLine Line(Margin margin, ReadOnlySpan<double> level) =>
        new(new PlanLimit.Of(margin), level[_body.StateIndex], level[_body.StateIndex + 1], LoadMap.Value(level, _others, margin.Constant));

    private BoundLine Line(PlanLimit limit, ReadOnlySpan<double> level, double off) =>
        new(limit, level[_body.StateIndex], level[_body.StateIndex + 1], LoadMap.Value(level, _others) - off);
}
