using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Limits;

/// <summary>Keys and rows that law and papers have in common.</summary>
internal static class Keys
{
    public static MarginKey Combination => new(MarginKind.CombinationGross, -1, -1);

    public static MarginKey Axle(RoadBody body, int axle) => new(MarginKind.Axle, body.Part.Index, body.Part.FirstAxle + axle);

    public static MarginKey Gross(RoadBody body) => new(MarginKind.Gross, body.Part.Index, -1);

    /// <summary>
    /// What the gross mass of one vehicle is: the load on its own axles and, for a trailer, the load it puts on the vehicle
    /// ahead. So a semi-trailer counts with its kingpin load, and a tractor with what the semi-trailer rests on it, as both
    /// are registered. The kingpin load counts in both; the combination counts axles only, and so counts it once.
    /// </summary>
    public static IEnumerable<int> GrossRows(Combination combination, RoadBody body)
    {
        for (var i = 0; i < body.Vehicle.Axles.Length; i++) yield return body.Part.FirstAxle + i;
        if (body.Part.Index > 0) yield return combination.CouplingRow(body.Part.Index);
    }
}
