using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Simulator.Statics;

/// <summary>A lump of a body: its mass, its moment about the origin, and the height at which inertia takes hold of it.</summary>
internal readonly record struct PointMass(double Kilograms, double Moment, double Height)
{
    private static PointMass At(double kilograms, double x, double height) => new(kilograms, kilograms * x, height);

    /// <summary>
    /// Every lump of a vehicle. A body is what its kerb weighing showed, less the wheels and axles that stood on the scale
    /// themselves (those raised then hung from the body, and are taken off it all the same), less what was aboard.
    /// </summary>
    public static IEnumerable<PointMass> Of(TrueVehicle truth, double payload, double payloadMoment)
    {
        var vehicle = truth.Description;
        for (var i = 0; i < vehicle.Axles.Length; i++)
        {
            var axle = vehicle.Axles[i];
            yield return At(truth.Unsprung[i], axle.Position.Metres, axle.Tyres.Radius.Metres);
            yield return At(truth.KerbLoads[i] - truth.Unsprung[i], axle.Position.Metres, truth.KerbHeight);
        }

        yield return At(truth.KerbCoupling, vehicle.FrontCoupling?.Position.Metres ?? 0, truth.KerbHeight);
        var cab = vehicle.Service?.Position.Metres ?? 0;
        yield return At(truth.Service - vehicle.Kerb.ServiceAboard.Kilograms, cab, truth.KerbHeight);
        for (var i = 0; i < vehicle.Fixtures.Length; i++)
        {
            var fixture = vehicle.Fixtures[i];
            var more = truth.FixturesAboard[i] - (fixture.InKerbWeighing ? 1 : 0);
            yield return At(more * fixture.Mass.Kilograms, fixture.Position.Metres, truth.KerbHeight);
        }

        yield return new PointMass(payload, payloadMoment, truth.PayloadHeight);
    }
}
