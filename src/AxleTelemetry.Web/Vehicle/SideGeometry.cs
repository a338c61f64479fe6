using System.Collections.Immutable;
using System.Globalization;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Web.Vehicle;

/// <summary>Where the parts of a combination stand, along the whole of it, m from its first axle rearward. What its papers do not say is drawn as is usual.</summary>
internal sealed class SideGeometry
{
    private const double FrontOverhang = 1.35, RearOverhang = 0.9, CabLength = 2.2;

    private readonly ImmutableArray<double> _origins;

    public SideGeometry(Combination combination)
    {
        Combination = combination;
        var origins = ImmutableArray.CreateBuilder<double>();
        var at = -combination.Vehicles[0].Axles[0].Position.Metres;
        foreach (var vehicle in combination.Vehicles)
        {
            origins.Add(at);
            at += vehicle.RearCoupling?.Position.Metres ?? 0;
        }

        _origins = origins.ToImmutable();
    }

    public Combination Combination { get; }

    public double Front => -FrontOverhang;

    public double Rear => Combination.Bodies.Max(b => Body(b.Index).To);

    /// <summary>A place along a body, along the whole.</summary>
    public double At(int body, double metres) => _origins[body] + metres;

    public double Axle(AxlePart axle) => At(axle.Body, axle.Axle.Position.Metres);

    /// <summary>Where a body begins and ends.</summary>
    public (double From, double To) Body(int body)
    {
        var vehicle = Combination.Vehicles[body];
        var from = body == 0 ? -FrontOverhang : At(body, vehicle.LoadSpace is { } front ? Math.Min(front.Front.Metres, vehicle.Axles[0].Position.Metres - 0.7) : vehicle.Axles[0].Position.Metres - 0.7);
        var last = At(body, vehicle.Axles[^1].Position.Metres) + RearOverhang;
        return (from, Math.Max(last, vehicle.LoadSpace is { } rear ? At(body, rear.Rear.Metres) : last));
    }

    /// <summary>The cab of the powered unit.</summary>
    public (double From, double To) Cab => (-FrontOverhang, Combination.Vehicles[0].LoadSpace is { } space ? Math.Min(-FrontOverhang + CabLength, At(0, space.Front.Metres) - 0.05) : -FrontOverhang + CabLength);

    /// <summary>A number of the drawing.</summary>
    public static string N(double value) => value.ToString("0.##", CultureInfo.InvariantCulture);
}
