using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Limits;

/// <summary>
/// The margins that follow from the vehicles' own papers: registered masses stand as law, ratings and couplings as the
/// makers' word, the steer axle's share as a house rule. An axle with relieved bellows has no margin of its own.
/// </summary>
internal sealed class PaperMargins(MarginSheet sheet, ImmutableArray<RoadBody> bodies)
{
    /// <summary>Least share of the powered unit's mass on its steered front axles: (EU) 2021/535, a rule of type approval.</summary>
    private const double LeastSteering = 0.20;

    private static readonly LimitSource SteeringSource = new(
        "Implementing Regulation (EU) 2021/535", "Annex XIII, house rule from type approval", new DateOnly(2021, 3, 31), LimitStatus.InForce);

    public void AddAll()
    {
        foreach (var body in bodies)
        {
            AddRegistered(body);
            foreach (var axle in body.OnRoad.Where(body.IsLoaded)) AddAxle(body, axle);
            AddCouplings(body);
        }

        AddSteering(bodies[0]);
    }

    private void AddRegistered(RoadBody body)
    {
        var registered = body.Vehicle.Registered;
        AddPaper(Keys.Gross(body), Keys.GrossRows(sheet.Combination, body), registered.Gross, body);
        if (registered.RearGroup is { } rear)
            AddPaper(new MarginKey(MarginKind.Group, body.Part.Index, 1), body.Support(body.Vehicle.Rear).Select(i => body.Part.FirstAxle + i), rear, body);
        if (body.Part.Index == 0 && bodies.Length > 1 && registered.Combination is { } combination)
            AddPaper(Keys.Combination, Enumerable.Range(0, sheet.Combination.Axles.Length), combination, body);
    }

    private void AddAxle(RoadBody body, int index)
    {
        var axle = body.Vehicle.Axles[index];
        int[] row = [body.Part.FirstAxle + index];
        if (axle.Registered is { } registered) AddPaper(Keys.Axle(body, index), row, registered, body);
        // Of two makers' words on one axle the weaker part is told: the other cannot be passed first.
        if (axle.Tyres.Capacity < axle.Rating)
            sheet.AtMost(new MarginKey(MarginKind.TyreRating, body.Part.Index, row[0]), row, axle.Tyres.Capacity.Kilograms,
                Paper(body, "tyre capacity"), MarginStanding.Technical);
        else
            sheet.AtMost(new MarginKey(MarginKind.AxleRating, body.Part.Index, row[0]), row, axle.Rating.Kilograms,
                Paper(body, "axle rating"), MarginStanding.Technical);
    }

    private void AddCouplings(RoadBody body)
    {
        if (body.Part.Index > 0 && body.Vehicle.FrontCoupling is { } front) AddCoupling(body, front, 0, body.Part.Index);
        if (body.Part.Index + 1 < bodies.Length && body.Vehicle.RearCoupling is { } rear) AddCoupling(body, rear, 1, body.Part.Index + 1);
    }

    private void AddCoupling(RoadBody body, Coupling coupling, int element, int behind)
    {
        // A drawbar that hinges carries nothing, so a range means nothing there.
        if (!bodies[behind].Vehicle.Kind.RestsOnCoupling()) return;
        int[] row = [sheet.Combination.CouplingRow(behind)];
        var source = Paper(body, element == 0 ? "front coupling" : "rear coupling");
        if (coupling.Most is { } most)
            sheet.AtMost(new MarginKey(MarginKind.CouplingMost, body.Part.Index, element), row, most.Kilograms, source, MarginStanding.Technical);
        if (coupling.Least is { } least)
            sheet.Add(new Margin
            {
                Key = new MarginKey(MarginKind.CouplingLeast, body.Part.Index, element),
                Weights = sheet.Rows(row, -1),
                Constant = -least.Kilograms,
                Limit = least.Kilograms,
                Source = source,
                Standing = MarginStanding.Technical,
            });
    }

    private void AddSteering(RoadBody powered)
    {
        var weights = sheet.Rows(Enumerable.Range(0, powered.Vehicle.Axles.Length), LeastSteering).ToBuilder();
        foreach (var axle in powered.OnRoad.Where(i => powered.Vehicle.Axles[i].Role == AxleRole.Steer)) weights[axle] -= 1;
        sheet.Add(new Margin
        {
            Key = new MarginKey(MarginKind.SteeringShare, 0, -1),
            Weights = weights.MoveToImmutable(),
            Constant = 0,
            Limit = LeastSteering,
            Source = SteeringSource,
            Standing = MarginStanding.HouseRule,
        });
    }

    private void AddPaper(MarginKey key, IEnumerable<int> rows, Mass mass, RoadBody body) =>
        sheet.AtMost(key, rows, mass.Kilograms, Paper(body, "registered mass"), MarginStanding.Law);

    // The description carries no date of its own: it is versioned as a whole, and findings cite the version.
    private static LimitSource Paper(RoadBody body, string clause) =>
        new($"Papers of {body.Vehicle.Id}", clause, DateOnly.MinValue, LimitStatus.VehiclePapers);
}
