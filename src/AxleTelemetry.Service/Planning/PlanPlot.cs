using System.Collections.Immutable;
using System.Globalization;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Planning;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Service.Drawing;
using static System.FormattableString;

namespace AxleTelemetry.Service.Planning;

/// <summary>One panel: axes, curves, the load and its way.</summary>
internal sealed class PlanPlot(Scene scene, Scale places, Scale tonnes, PlanNames names)
{
    private const double Reach = 5, HatchStep = 9;

    private readonly PlanLabels _labels = new(scene, (places.Start, places.End, tonnes.End, tonnes.Start));

    public void Frame()
    {
        foreach (var value in tonnes.Ticks)
        {
            scene.Line("grid", (places.Start, tonnes.At(value)), (places.End, tonnes.At(value)));
            scene.Text("end", (places.Start - 8, tonnes.At(value) + 4), value.ToString("0.##", CultureInfo.InvariantCulture));
        }

        foreach (var value in places.Ticks)
        {
            scene.Line("grid", (places.At(value), tonnes.Start), (places.At(value), tonnes.End));
            scene.Text("middle", (places.At(value), tonnes.Start + 17), value.ToString("0.##", CultureInfo.InvariantCulture));
        }

        scene.Line("axis", (places.Start, tonnes.Start), (places.End, tonnes.Start));
        scene.Line("axis", (places.Start, tonnes.Start), (places.Start, tonnes.End));
        scene.Text("middle", (20, (tonnes.Start + tonnes.End) / 2), "Payload, t", -90);
        scene.Text("smallend", (places.End, tonnes.Start + 70), "centre of the payload, m along the body, over its load space");
    }

    /// <summary>Keeps names off the load and its way.</summary>
    public void Keep(PlanSheet sheet)
    {
        if (sheet.Order.Source is PlanSource.Empty) return;
        foreach (var stage in sheet.Stages)
            if (stage.Aboard.Centre is { } centre) _labels.Keep(Point(Within(centre), stage.Aboard.Kilograms), sheet.Stages.Length > 1);
    }

    public void Diagram(LoadDiagram diagram)
    {
        _labels.Above([.. diagram.Binding.OfType<DiagramStretch.Open>().SelectMany(o => Points(o.Most, o))]);
        foreach (var stretch in diagram.Binding) Room(stretch);
        foreach (var open in diagram.Binding.OfType<DiagramStretch.Open>())
        {
            Curve("most", open.Most, open);
            if (open.Least is { } least) Curve("least", least, open);
            foreach (var x in new[] { open.From, open.To }) scene.Circle("turn", Point(x, open.Most.At(x)), 2);
        }

        House(diagram);
        foreach (var stretch in diagram.Binding) Name(stretch);
        // A bound below goes on while those above change: named once, where it is longest.
        foreach (var one in diagram.Binding.OfType<DiagramStretch.Open>().Where(o => o.Least is not null).GroupBy(o => o.Least!))
            if (one.MaxBy(o => o.To - o.From) is { } longest) _labels.Under("name", Middle(one.Key, longest), names.Of(one.Key.Limit));
    }

    public void Stages(PlanSheet sheet, Configuration lifts)
    {
        if (sheet.Order.Source is PlanSource.Empty) return;
        if (!sheet.Edge.IsEmpty) scene.Path("edge", sheet.Edge.Select(e => Point(Within(e.Metres), e.Kilograms)), closed: true);
        ImmutableArray<(PlanStage Stage, (double X, double Y) At)> placed = [.. sheet.Stages.Where(s => s.Aboard.Centre is not null).Select(s => (s, Point(Within(s.Aboard.Centre!.Value), s.Aboard.Kilograms)))];
        scene.Path("path", placed.Select(p => p.At));
        foreach (var (stage, at) in placed)
        {
            var good = stage.In(lifts) is { IsPermitted: true };
            Mark(scene, at, good);
            if (sheet.Stages.Length > 1) scene.Text(good ? "stage" : "badstage", (at.X + 9, at.Y - 6), Invariant($"{stage.Number}"));
        }
    }

    /// <summary>The axles of this body under the load space: on the road, or raised.</summary>
    public void Wheels(PlanOrder order, Configuration lifts)
    {
        foreach (var (i, axle) in order.Body.Vehicle.Axles.Index())
        {
            var x = axle.Position.Metres;
            if (x < places.Least || x > places.Most) continue;
            var raised = lifts[order.Body.FirstAxle + i] == AxleState.Raised;
            scene.Circle(raised ? "lifted" : "wheel", (places.At(x), tonnes.Start + (raised ? 30 : 34)), Reach);
            scene.Text("small", (places.At(x), tonnes.Start + 54), raised ? $"{axle.Key}, raised" : axle.Key);
        }
    }

    /// <summary>Told by shape: a ring where permitted, a cross where not.</summary>
    public static void Mark(Scene scene, (double X, double Y) at, bool good)
    {
        if (good)
        {
            scene.Circle("good", at, Reach);
            return;
        }

        scene.Line("bad", (at.X - Reach, at.Y - Reach), (at.X + Reach, at.Y + Reach));
        scene.Line("bad", (at.X - Reach, at.Y + Reach), (at.X + Reach, at.Y - Reach));
    }

    private void Room(DiagramStretch stretch)
    {
        switch (stretch)
        {
            case DiagramStretch.Open open:
                IEnumerable<(double, double)> below = open.Least is { } least ? Points(least, open) : [Point(open.From, 0), Point(open.To, 0)];
                scene.Path("room", Points(open.Most, open).Concat(below.Reverse()), closed: true);
                break;
            case DiagramStretch.Shut shut:
                for (var x = places.At(shut.From); x < places.At(shut.To); x += HatchStep) scene.Line("shut", (x, tonnes.Start), (Math.Min(x + 7, places.At(shut.To)), tonnes.Start - 14));
                break;
            default:
                throw new InvalidOperationException("A stretch that nobody handles.");
        }
    }

    /// <summary>Rules of the house, only where they bound more than the rest.</summary>
    private void House(LoadDiagram diagram)
    {
        var named = new HashSet<PlanLimit>();
        foreach (var open in diagram.WithHouseRules.OfType<DiagramStretch.Open>())
        {
            foreach (var line in new[] { open.Most, open.Least }.OfType<BoundLine>().Where(IsHouse))
            {
                Curve("house", line, open);
                if (named.Add(line.Limit)) _labels.Under("housename", Middle(line, open), names.Of(line.Limit));
            }
        }
    }

    private void Name(DiagramStretch stretch)
    {
        switch (stretch)
        {
            case DiagramStretch.Open open:
                _labels.Over(Middle(open.Most, open), (Point(open.From, open.Most.At(open.From)), Point(open.To, open.Most.At(open.To))), names.Of(open.Most.Limit));
                break;
            case DiagramStretch.Shut shut:
                var words = shut.With is { } with ? $"{names.Of(shut.Passed.Limit)} against {names.Of(with.Limit)}" : names.Of(shut.Passed.Limit);
                var none = $"none: {words}";
                _labels.Under("name", (Math.Min(places.At((shut.From + shut.To) / 2), places.At(shut.To) - PlanLabels.Width(none) / 2), tonnes.Start - 10), none);
                break;
            default:
                throw new InvalidOperationException("A stretch that nobody handles.");
        }
    }

    private static bool IsHouse(BoundLine line) => line.Limit is PlanLimit.Of { Margin.Standing: MarginStanding.HouseRule };

    private void Curve(string look, BoundLine line, DiagramStretch over) => scene.Path(look, Points(line, over));

    private IEnumerable<(double X, double Y)> Points(BoundLine line, DiagramStretch over) => CurvePoints.Of(line, (over.From, over.To)).Select(p => Point(p.Metres, p.Kilograms));

    private (double X, double Y) Middle(BoundLine line, DiagramStretch over) => (over.From + over.To) / 2 is var x ? Point(x, line.At(x)) : default;

    private (double X, double Y) Point(double metres, double kilograms) => (places.At(metres), tonnes.At(kilograms / 1000));

    private double Within(double metres) => Math.Clamp(metres, places.Least, places.Most);
}
