using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Web.Look;
using AxleTelemetry.Web.Sight;

namespace AxleTelemetry.Web.Tests.Vehicle;

/// <summary>What falls below a least share is no load that is over.</summary>
public sealed class SideTests
{
    [Theory]
    [InlineData(MarginKind.DrivingShare, 700, "too little")]
    [InlineData(MarginKind.SteeringShare, 700, "too little")]
    [InlineData(MarginKind.CouplingLeast, 700, "too little")]
    [InlineData(MarginKind.CouplingMost, 700, "over")]
    [InlineData(MarginKind.Axle, 700, "over")]
    [InlineData(MarginKind.DrivingShare, -700, "to spare")]
    public void A_margin_is_told_on_its_side(MarginKind kind, double excess, string told) => Assert.Equal(told, Told.Side(excess, kind.IsLeast()));
}
