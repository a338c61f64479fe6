using AxleTelemetry.Domain.Turning;

namespace AxleTelemetry.Domain.Tests.Turning;

public sealed class EquivalentWheelbaseTests
{
    /// <summary>From memory: L 6.0 m, a tandem of 1.30 m, equal stiffness give 6.1408 m.</summary>
    [Fact]
    public void A_tandem_lengthens_the_wheelbase_as_remembered() =>
        Assert.Equal(6.1408, EquivalentWheelbase.Metres(6.0, EquivalentWheelbase.Spread([5.35, 6.65]), 1), 4);

    [Fact]
    public void One_axle_lengthens_nothing() => Assert.Equal(6.0, EquivalentWheelbase.Metres(6.0, EquivalentWheelbase.Spread([6.0]), 1), 12);

    /// <summary>Published formula of steady-state off-tracking: R 12.5 m, L 6.0 m give 1.534 m.</summary>
    [Fact]
    public void A_truck_off_tracks_as_the_formula_has_it() => Assert.Equal(1.534, OffTracking.Metres(12.5, 6.0 * 6.0)!.Value, 3);

    /// <summary>AASHTO widening (formula published): R 500 ft, wheelbases 19.5 and 41 ft give 2.0655 ft.</summary>
    [Fact]
    public void Two_wheelbases_off_track_as_aashto_has_it() => Assert.Equal(2.0655, OffTracking.Metres(500, 19.5 * 19.5 + 41 * 41)!.Value, 4);

    /// <summary>From memory: an axle 1.31 m from the line through the turning centre slips 6.00 degrees at R 12.5 m.</summary>
    [Fact]
    public void An_axle_off_the_turning_line_slips_as_remembered() => Assert.Equal(6.00, OffTracking.Slip(1.31, 12.5) * 180 / Math.PI, 2);

    [Fact]
    public void A_bend_tighter_than_the_wheelbase_is_none() => Assert.Null(OffTracking.Metres(6, 36.1));
}
