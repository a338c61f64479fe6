using System.Collections.Immutable;
using AxleTelemetry.Domain.Grip;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Planning;
using AxleTelemetry.Domain.Turning;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Service.Overview;
using AxleTelemetry.Service.Serving;

namespace AxleTelemetry.Service.Planning;

/// <summary>From a sheet to its document. Pure.</summary>
internal sealed class PlanWriting
{
    private readonly PlanSheet _sheet;
    private readonly PlanWords _words;

    private PlanWriting(PlanSheet sheet) => (_sheet, _words) = (sheet, new PlanWords(sheet));

    private PlanOrder Order => _sheet.Order;

    public static PlanDocument Of(PlanSheet sheet) => new PlanWriting(sheet).Document();

    private PlanDocument Document() => new()
    {
        Vehicles = [.. Order.Combination.Vehicles.Select(v => v.Id)],
        Of = Order.Body.Vehicle.Id,
        FrontM = Order.Body.Vehicle.LoadSpace!.Front.Metres,
        RearM = Order.Body.Vehicle.LoadSpace.Rear.Metres,
        Limits = Order.Limits,
        Source = Source(),
        SourceWords = (Order.Source as PlanSource.Live)?.Worth,
        Present = Order.Source is PlanSource.Live live ? _words.Names.Lifts(live.Present) : null,
        Others = [.. Order.Combination.Bodies.Where(b => b.StateIndex >= 0 && b != Order.Body).Select(Other)],
        Edge = [.. _sheet.Edge.Select(e => Placed(e.Metres, e.Kilograms))],
        Configurations = [.. _sheet.Lifts.Select(Lifts)],
        Stages = [.. _sheet.Stages.Select(Stage)],
        FirstFailures = [.. _words.FirstFailures()],
        MovingOff = [.. _words.Shifted(), .. _words.Aids()],
        Assumptions = [.. _words.Assumptions()],
        Cautions = PlanWords.Cautions,
    };

    private string Source() => Order.Source switch
    {
        PlanSource.Empty => "empty",
        PlanSource.Stated => "stated",
        PlanSource.Items => "items",
        PlanSource.Live => "live",
        _ => throw new InvalidOperationException("A source that nobody handles."),
    };

    private OtherPayloadDocument Other(BodyPart body)
    {
        var aboard = new Aboard(Order.Payload.State[body.StateIndex], Order.Payload.State[body.StateIndex + 1]);
        return new(body.Vehicle.Id, Interval.Rounded(aboard.Kilograms), Rounded(aboard.Centre));
    }

    private PlannedLiftsDocument Lifts(PlannedLifts lifts) => new(
        Keys(lifts.Configuration.Raised), _words.Names.Lifts(lifts.Configuration),
        lifts.Diagram.Peak is { } peak ? Placed(peak.Metres, peak.Kilograms) : null,
        [.. lifts.Diagram.Binding.Select(Stretch)], [.. lifts.Diagram.WithHouseRules.Select(Stretch)], Turning(lifts));

    private DiagramStretchDocument Stretch(DiagramStretch stretch) => stretch switch
    {
        DiagramStretch.Open open => new(Rounded(open.From), Rounded(open.To), true, Bound(open.Most), open.Least is { } least ? Bound(least) : null, Points(open.Most, open), open.Least is { } below ? Points(below, open) : []),
        DiagramStretch.Shut shut => new(Rounded(shut.From), Rounded(shut.To), false, Bound(shut.Passed), shut.With is { } with ? Bound(with) : null, [], []),
        _ => throw new InvalidOperationException("A stretch that nobody handles."),
    };

    private BoundDocument Bound(BoundLine line) => line.Limit switch
    {
        PlanLimit.Of { Margin: var margin } limit => new(_words.Names.Of(limit), JsonText.Word(margin.Key.Kind), JsonText.Word(margin.Standing), SourceDocument.Of(margin.Source)),
        PlanLimit.Pulls or PlanLimit.Valve => new(_words.Names.Of(line.Limit), "cannot_stand", JsonText.Word(MarginStanding.Technical), null),
        _ => throw new InvalidOperationException("A limit that nobody handles."),
    };

    private static ImmutableArray<PlacedDocument> Points(BoundLine line, DiagramStretch stretch) =>
        [.. CurvePoints.Of(line, (stretch.From, stretch.To)).Select(p => Placed(p.Metres, p.Kilograms))];

    private TurningDocument Turning(PlannedLifts lifts) => lifts.Turn switch
    {
        Turn.Round round => new(round.Passes, Rounded(round.SweptWidth), Rounded(round.OffTracking), Rounded(round.Spare), Rounded(round.MostSlip * 180 / Math.PI), _words.Turning(lifts)),
        Turn.TooTight => new(false, null, null, null, null, _words.Turning(lifts)),
        Turn.NoFixedAxle => new(null, null, null, null, null, _words.Turning(lifts)),
        _ => throw new InvalidOperationException("A turn that nobody handles."),
    };

    private PlanStageDocument Stage(PlanStage stage) => new(
        _words.Title(stage), Interval.Rounded(stage.Aboard.Kilograms), Rounded(stage.Aboard.Centre), _words.Right(stage), [.. _sheet.Lifts.Select(l => Staged(stage, l.Configuration))], _words.Remedies(stage));

    private StagedLiftsDocument Staged(PlanStage stage, Configuration lifts)
    {
        var plan = stage.In(lifts);
        return new()
        {
            Raised = Keys(lifts.Raised),
            Possible = plan is not null,
            Permitted = plan is { IsPermitted: true },
            Sure = plan is { IsSure: true },
            Right = plan is not null && plan == stage.Plan.Right,
            Words = _words.Verdict(stage, lifts),
            SetDown = plan is null ? [] : Keys(plan.SetDown.Aggregate(0u, (bits, a) => bits | 1u << a)),
            RollingN = plan is null ? null : Interval.Rounded(plan.Cost.Newtons),
            MovingOff = plan is null ? [] : [.. RoadSurface.Usual.Select(s => Grade(s, plan.MovingOff.Steepest(s.Friction)))],
            Limits = plan is null ? [] : [.. plan.Verdicts.Select(v => LimitDocument.Of(v, _words.Names.Names))],
        };
    }

    private static GradeDocument Grade(RoadSurface surface, GradeReach reach) => new(
        surface.Name, surface.Friction, Math.Round(100 * reach.Grade, 2), JsonText.Word(reach.End), Interval.Rounded(reach.Steer));

    private ImmutableArray<string> Keys(uint axles) => [.. Order.Combination.Axles.Where(a => (axles >> a.Index & 1) != 0)
        .Select(a => Order.Combination.Bodies.Length == 1 ? a.Axle.Key : $"{Order.Combination.Vehicles[a.Body].Id}/{a.Axle.Key}")];

    private static PlacedDocument Placed(double metres, double kilograms) => new(Rounded(metres), Interval.Rounded(kilograms));

    private static double Rounded(double metres) => Math.Round(metres, 3);

    private static double? Rounded(double? metres) => metres is { } known ? Rounded(known) : null;
}
