using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Limits;

/// <summary>The margins that follow from a table.</summary>
internal sealed class LawMargins(MarginSheet sheet, ImmutableArray<RoadBody> bodies, LimitSet set, LimitContext context)
{
    private readonly string _scope = Scope(set, context.Trip);

    private RoadBody Powered => bodies[0];

    public void AddAll()
    {
        foreach (var body in bodies)
        {
            if (body.Vehicle.Front is { } front) AddSupport(body, front, 0);
            AddSupport(body, body.Vehicle.Rear, 1);
            AddGross(body);
        }

        if (bodies.Length > 1) AddCombination();
        foreach (var rule in set.Rules.OfType<DrivingShareRule>()) AddDrivingShare(rule);
    }

    private void AddSupport(RoadBody body, AxleGroup support, int element)
    {
        var onRoad = body.Support(support);
        ImmutableArray<int> loaded = [.. onRoad.Where(body.IsLoaded)];
        var groups = LegalGroups.Find(body, loaded, set);
        foreach (var group in groups)
        {
            var whole = group.Length == onRoad.Length;
            var key = new MarginKey(MarginKind.Group, body.Part.Index, whole ? element : 2 + body.Part.FirstAxle + group[0]);
            var figure = Figure.Choose(LegalGroups.Rules(body, group, set), [], body, context.Trip);
            if (figure is null) sheet.Remark(key, $"{set.Title} has no row for a group of {body.Vehicle.Id} on this trip.");
            if (group.Length < loaded.Length) figure = figure?.With($"The table has no row for all {loaded.Length} axles together.");
            Add(key, Rows(body, group), figure);
        }

        foreach (var axle in loaded) AddAxle(body, axle, single: !groups.Any(g => g.Contains(axle)));
    }

    private void AddAxle(RoadBody body, int axle, bool single)
    {
        List<MassRule> rules = [.. set.Rules.OfType<AxleRule>().Where(r => r.Driving == body.IsDriving(axle)
            && (single || !r.SingleOnly) && body.Meets(r.Fitted, [axle]))];
        Add(Keys.Axle(body, axle), Rows(body, [axle]), Figure.Choose(rules, [], body, context.Trip));
    }

    private void AddGross(RoadBody body)
    {
        var axles = body.OnRoad.Length;
        List<VehicleRule> ofClass = [.. set.Rules.OfType<VehicleRule>().Where(r => body.IsClass(r.Vehicle))];
        List<MassRule> fitting = [.. ofClass.Where(r => r.Axles.Contains(axles)
            && (r.SteeredAxles ?? body.SteeredCount) == body.SteeredCount && body.Meets(r.Fitted, body.OnRoad))];
        List<MassRule> nearest = [.. ofClass.Where(r => r.Axles.From > axles)];
        var figure = Figure.Choose(fitting, nearest, body, context.Trip);
        var key = Keys.Gross(body);
        if (figure is null && ofClass.Count > 0)
            sheet.Remark(key, $"{set.Title} has no row for the gross mass of {body.Vehicle.Id} with these axles: only its papers hold.");
        if (figure is not null && body.RaisedCount > 0) figure = figure.With($"Counted with the {axles} axles on the road.");
        Add(key, Keys.GrossRows(sheet.Combination, body), figure);
    }

    private void AddCombination()
    {
        var figure = bodies.Length == 2 ? CombinationFigure(bodies[1]) : null;
        if (figure is null)
            sheet.Remark(Keys.Combination, $"{set.Title} has no row for this combination: only the powered unit's papers hold.");
        if (figure is not null && bodies.Any(b => b.RaisedCount > 0))
            figure = figure.With($"Counted with {Powered.OnRoad.Length} + {bodies[1].OnRoad.Length} axles on the road.");
        Add(Keys.Combination, Enumerable.Range(0, sheet.Combination.Axles.Length), figure);
    }

    private Figure? CombinationFigure(RoadBody trailer)
    {
        var shape = trailer.Vehicle.Kind == VehicleKind.SemiTrailer ? CombinationShape.Articulated : CombinationShape.RoadTrain;
        int motorAxles = Powered.OnRoad.Length, trailerAxles = trailer.OnRoad.Length;
        List<CombinationRule> ofShape = [.. set.Rules.OfType<CombinationRule>().Where(r => r.Shape == shape)];
        List<MassRule> fitting = [.. ofShape.Where(r => r.MotorAxles.Contains(motorAxles) && r.TrailerAxles.Contains(trailerAxles)
            && trailer.Spacings(trailer.OnRoad).All(r.TrailerSpacing.Contains)
            && (context.Intermodal || !r.Intermodal) && Powered.Meets(r.Fitted, Powered.OnRoad))];
        List<MassRule> nearest = [.. ofShape.Where(r => r.MotorAxles.To >= motorAxles && r.TrailerAxles.To >= trailerAxles && !r.Intermodal)];
        return Figure.Choose(fitting, nearest, Powered, context.Trip);
    }

    /// <summary>
    /// The law where the rule covers the trip or the trip is not declared; elsewhere the same share stays as a house rule,
    /// since grip does not end at the border.
    /// </summary>
    private void AddDrivingShare(DrivingShareRule rule)
    {
        var weights = sheet.Rows(Enumerable.Range(0, sheet.Combination.Axles.Length), rule.Least).ToBuilder();
        foreach (var axle in Powered.OnRoad.Where(Powered.IsDriving)) weights[Powered.Part.FirstAxle + axle] -= 1;
        var undeclared = context.Trip == TripKind.Unknown && rule.Trips != TripScope.All;
        var holds = undeclared || rule.Trips.Covers(context.Trip);
        var note = undeclared ? Figure.TripUndeclared : holds ? "" : "No law on this trip: kept as a house rule for grip.";
        sheet.Add(new Margin
        {
            Key = new MarginKey(MarginKind.DrivingShare, -1, -1),
            Weights = weights.MoveToImmutable(),
            Constant = 0,
            Limit = rule.Least,
            Source = set.SourceOf(rule),
            Standing = holds ? MarginStanding.Law : MarginStanding.HouseRule,
            Note = Figure.Join(Figure.Join(rule.Note, note), _scope),
        });
    }

    private void Add(MarginKey key, IEnumerable<int> rows, Figure? figure)
    {
        if (figure is not null)
            sheet.AtMost(key, rows, figure.Kilograms, set.SourceOf(figure.Rule), MarginStanding.Law, Figure.Join(figure.Note, _scope));
    }

    private static IEnumerable<int> Rows(RoadBody body, ImmutableArray<int> axles) => axles.Select(a => body.Part.FirstAxle + a);

    // A table made for other trips is still better than none, but a reader must know.
    private static string Scope(LimitSet set, TripKind trip) => set.AppliesTo switch
    {
        TripScope.National when trip != TripKind.National => "The table is made for national traffic.",
        TripScope.International when trip != TripKind.International => "The table is made for international traffic.",
        TripScope.All or TripScope.National or TripScope.International => "",
        _ => throw new ArgumentOutOfRangeException(nameof(set), set.AppliesTo, "Unknown scope."),
    };
}
