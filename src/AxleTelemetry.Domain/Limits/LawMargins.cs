using System.Collections.Immutable;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Limits;

/// <summary>The margins that follow from tables.</summary>
internal sealed class LawMargins(MarginSheet sheet, ImmutableArray<RoadBody> bodies, LimitStack stack, LimitContext context)
{
    private RoadBody Powered => bodies[0];

    private string Title => stack.Top(context.Trip).Title;

    public void AddAll()
    {
        foreach (var body in bodies)
        {
            if (body.Vehicle.Front is { } front) AddSupport(body, front, 0);
            AddSupport(body, body.Vehicle.Rear, 1);
            AddGross(body);
        }

        if (bodies.Length > 1) AddCombination();
        // Of several the law comes before what is kept as a house rule, and the greater share holds.
        if (Shares().OrderByDescending(s => Holds(s.Rule)).ThenByDescending(s => s.Rule.Least).FirstOrDefault() is { Set: not null } share) AddDrivingShare(share.Set, share.Rule);
        foreach (var set in Tables())
            foreach (var rule in set.Rules.OfType<BridgeRule>().Where(r => Covers(r.Trips)))
                AddBridge(set, rule);
    }

    private void AddSupport(RoadBody body, AxleGroup support, int element)
    {
        var onRoad = body.Support(support);
        ImmutableArray<int> loaded = [.. onRoad.Where(body.IsLoaded)];
        // What forms a group is for each table to say: the first that knows one among these axles is asked for all of them.
        ImmutableArray<LimitSet> tables = [.. Trips.Select(trip => Grouping(body, loaded, trip)).Distinct()];
        var grouped = tables.SelectMany(set => LegalGroups.Find(body, loaded, set).Select(g => (Group: g, Set: set))).ToArray();
        foreach (var (group, set) in grouped)
        {
            var whole = group.Length == onRoad.Length;
            var key = whole ? new MarginKey(MarginKind.Group, body.Part.Index, element) : MarginKey.PartOfGroup(body.Part.Index, body.Part.FirstAxle + group[0], group.Length);
            var choice = Choose(tables.Length == 1 ? null : set, (s, trip) => Figure.Choose(LegalGroups.Rules(body, group, s), [], body, trip));
            if (choice is null) sheet.Remark(key, $"{set.Title} has no row for a group of {body.Vehicle.Id} on this trip.");
            if (group.Length < loaded.Length) choice = choice?.With($"The table has no row for all {loaded.Length} axles together.");
            Add(key, Rows(body, group), choice);
        }

        foreach (var axle in loaded) AddAxle(body, axle, single: !grouped.Any(g => g.Group.Contains(axle)));
    }

    private LimitSet Grouping(RoadBody body, ImmutableArray<int> loaded, TripKind trip) =>
        stack.Layers(trip).FirstOrDefault(s => LegalGroups.Find(body, loaded, s).Length > 0) ?? stack.Layers(trip)[^1];

    private void AddAxle(RoadBody body, int axle, bool single) => Add(Keys.Axle(body, axle), Rows(body, [axle]), Choose(null, (set, trip) =>
        Figure.Choose(
            [.. set.Rules.OfType<AxleRule>().Where(r => r.Driving == body.IsDriving(axle) && (single || !r.SingleOnly) && body.Meets(r.Fitted, [axle]))], [], body, trip)));

    private void AddGross(RoadBody body)
    {
        var axles = body.OnRoad.Length;
        var key = Keys.Gross(body);
        var choice = Choose(null, (set, trip) =>
        {
            List<VehicleRule> ofClass = [.. set.Rules.OfType<VehicleRule>().Where(r => body.IsClass(r.Vehicle))];
            List<MassRule> fitting = [.. ofClass.Where(r => r.Axles.Contains(axles)
                && (r.SteeredAxles ?? 0) <= body.SteeredCount && body.Meets(r.Fitted, body.OnRoad))];
            return Figure.Choose(fitting, [.. ofClass.Where(r => r.Axles.From > axles)], body, trip);
        });
        if (choice is null && Tables().Any(s => s.Rules.OfType<VehicleRule>().Any(r => body.IsClass(r.Vehicle))))
            sheet.Remark(key, $"{Title} has no row for the gross mass of {body.Vehicle.Id} with these axles: only its papers hold.");
        if (body.RaisedCount > 0) choice = choice?.With($"Counted with the {axles} axles on the road.");
        Add(key, Keys.GrossRows(sheet.Combination, body), choice);
    }

    private void AddCombination()
    {
        var choice = bodies.Length == 2 ? Choose(null, (set, trip) => CombinationFigure(set, bodies[1], trip)) : null;
        if (choice is null)
            sheet.Remark(Keys.Combination, $"{Title} has no row for this combination: only the powered unit's papers hold.");
        if (bodies.Any(b => b.RaisedCount > 0))
            choice = choice?.With($"Counted with {Powered.OnRoad.Length} + {bodies[1].OnRoad.Length} axles on the road.");
        Add(Keys.Combination, Enumerable.Range(0, sheet.Combination.Axles.Length), choice);
    }

    private Figure? CombinationFigure(LimitSet set, RoadBody trailer, TripKind trip)
    {
        var shape = trailer.Vehicle.Kind == VehicleKind.SemiTrailer ? CombinationShape.Articulated : CombinationShape.RoadTrain;
        int motorAxles = Powered.OnRoad.Length, trailerAxles = trailer.OnRoad.Length;
        List<CombinationRule> ofShape = [.. set.Rules.OfType<CombinationRule>().Where(r => r.Shape == shape)];
        List<MassRule> fitting = [.. ofShape.Where(r => r.MotorAxles.Contains(motorAxles) && r.TrailerAxles.Contains(trailerAxles)
            && trailer.Spacings(trailer.OnRoad).All(r.TrailerSpacing.Contains)
            && (context.Intermodal || !r.Intermodal) && Powered.Meets(r.Fitted, Powered.OnRoad))];
        List<MassRule> nearest = [.. ofShape.Where(r => r.MotorAxles.To >= motorAxles && r.TrailerAxles.To >= trailerAxles && !r.Intermodal)];
        return Figure.Choose(fitting, nearest, Powered, trip);
    }

    /// <summary>
    /// The law where the rule covers the trip or the trip is not declared; elsewhere the same share stays as a house rule,
    /// since grip does not end at the border.
    /// </summary>
    private void AddDrivingShare(LimitSet set, DrivingShareRule rule)
    {
        var weights = sheet.Rows(Enumerable.Range(0, sheet.Combination.Axles.Length), rule.Least).ToBuilder();
        foreach (var axle in Powered.OnRoad.Where(Powered.IsDriving)) weights[Powered.Part.FirstAxle + axle] -= 1;
        var undeclared = IsUndeclared(rule);
        var holds = Holds(rule);
        var note = undeclared ? Figure.TripUndeclared : holds ? "" : "No law on this trip: kept as a house rule for grip.";
        sheet.Add(new Margin
        {
            Key = new MarginKey(MarginKind.DrivingShare, -1, -1),
            Weights = weights.MoveToImmutable(),
            Constant = 0,
            Limit = rule.Least,
            Source = set.SourceOf(rule),
            Standing = holds ? MarginStanding.Law : MarginStanding.HouseRule,
            Note = Figure.Join(Figure.Join(rule.Note, note), Scope(set)),
        });
    }

    private bool IsUndeclared(DrivingShareRule rule) => context.Trip == TripKind.Unknown && rule.Trips != TripScope.All;

    private bool Holds(DrivingShareRule rule) => IsUndeclared(rule) || rule.Trips.Covers(context.Trip);

    /// <summary>Every run of two or more consecutive axles on the road. A raised one is not there; one with relieved bellows bears on the bridge.</summary>
    private void AddBridge(LimitSet set, BridgeRule rule)
    {
        var places = AxlePlaces.Of(sheet.Combination);
        int[] onRoad = [.. bodies.SelectMany(b => b.OnRoad.Select(a => b.Part.FirstAxle + a))];
        for (var first = 0; first < onRoad.Length; first++)
            for (var last = first + 1; last < onRoad.Length; last++)
            {
                var (from, to) = (onRoad[first], onRoad[last]);
                var kilograms = rule.Formula.KilogramsOf(places[to] - places[from], last - first + 1);
                sheet.AtMost(MarginKey.Run(from, to), onRoad[first..(last + 1)], kilograms, set.SourceOf(rule), MarginStanding.Law, Figure.Join(rule.Note, Scope(set)));
            }
    }

    private IEnumerable<TripKind> Trips => context.Trip == TripKind.Unknown ? [TripKind.National, TripKind.International] : [context.Trip];

    private bool Covers(TripScope scope) => Trips.Any(trip => scope.Covers(trip));

    private IEnumerable<LimitSet> Tables() => Trips.SelectMany(trip => stack.Layers(trip)).Distinct();

    private IEnumerable<(LimitSet Set, DrivingShareRule Rule)> Shares() => Trips.Select(trip => stack.Layers(trip).FirstOrDefault(s => s.Rules.OfType<DrivingShareRule>().Any()))
        .OfType<LimitSet>().Distinct().SelectMany(s => s.Rules.OfType<DrivingShareRule>().Select(r => (s, r)));

    /// <summary>
    /// The figure of the uppermost table that has one. Of a trip that is not declared both kinds are worked out, and the stricter holds. Where a table
    /// is given, it alone is asked, for the trips in which it is.
    /// </summary>
    private Choice? Choose(LimitSet? only, Func<LimitSet, TripKind, Figure?> figure)
    {
        if (context.Trip != TripKind.Unknown) return First(context.Trip);
        var (national, international) = (First(TripKind.National), First(TripKind.International));
        if (national is null || international is null) return (national ?? international)?.With(Figure.TripUndeclared);
        if (national.Figure.Kilograms == international.Figure.Kilograms) return international;
        return (national.Figure.Kilograms < international.Figure.Kilograms ? national : international).With(Figure.TripUndeclared);

        Choice? First(TripKind trip) => stack.Layers(trip).Where(s => only is null || ReferenceEquals(s, only))
            .Select(s => figure(s, trip) is { } found ? new Choice(found, s) : null).FirstOrDefault(c => c is not null);
    }

    private void Add(MarginKey key, IEnumerable<int> rows, Choice? choice)
    {
        if (choice is not null)
            sheet.AtMost(key, rows, choice.Figure.Kilograms, choice.Set.SourceOf(choice.Figure.Rule), MarginStanding.Law, Figure.Join(choice.Figure.Note, Scope(choice.Set)));
    }

    private static IEnumerable<int> Rows(RoadBody body, ImmutableArray<int> axles) => axles.Select(a => body.Part.FirstAxle + a);

    // A table made for other trips is still better than none, but a reader must know. Among several each is asked for its own trips only.
    private string Scope(LimitSet set) => !stack.IsSingle ? "" : set.AppliesTo switch
    {
        TripScope.National when context.Trip != TripKind.National => "The table is made for national traffic.",
        TripScope.International when context.Trip != TripKind.International => "The table is made for international traffic.",
        TripScope.All or TripScope.National or TripScope.International => "",
        _ => throw new ArgumentOutOfRangeException(nameof(set), set.AppliesTo, "Unknown scope."),
    };

    private sealed record Choice(Figure Figure, LimitSet Set)
    {
        public Choice With(string note) => this with { Figure = Figure.With(note) };
    }
}

/// <summary>Where every axle of a combination is, along it.</summary>
internal static class AxlePlaces
{
    /// <summary>Metres behind the first axle: a trailer stands where its coupling holds it.</summary>
    public static double[] Of(Combination combination)
    {
        var places = new double[combination.Axles.Length];
        double origin = 0;
        foreach (var body in combination.Bodies)
        {
            for (var a = 0; a < body.Vehicle.Axles.Length; a++) places[body.FirstAxle + a] = origin + body.Vehicle.Axles[a].Position.Metres;
            origin += body.Vehicle.RearCoupling?.Position.Metres ?? 0;
        }

        return places;
    }
}
