using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Messages.VehicleFiles;
using AxleTelemetry.Service.Register;

namespace AxleTelemetry.Service.Tests.Exporting;

/// <summary>Bands at their boundaries: Regulation (EU) 2016/403, Annex I, group 4 (published), N3, gross of 18 t.</summary>
public sealed class BandDocumentTests
{
    [Theory]
    [InlineData(899, 0, "none", "none")]
    [InlineData(900, 0, "serious", "serious")]
    [InlineData(1_800, 0, "very_serious", "very_serious")]
    [InlineData(3_600, 0, "most_serious", "most_serious")]
    [InlineData(1_900, 100, "very_serious", "serious")]
    [InlineData(950, 100, "serious", "none")]
    public void Of_a_gross_mass_by_the_mean_and_by_the_lower_bound(double excess, double sd, string mean, string lower)
    {
        var band = BandDocument.Of(Key(MarginKind.Gross, -1), Limit(18_000, excess, sd), Rigid())!;
        Assert.Equal((mean, lower, false), (band.ByMean, band.ByLowerBound, band.HouseRule));
        Assert.Contains("No finding of an authority", band.Words);
    }

    [Fact]
    public void Of_an_axle_it_is_a_rule_of_the_house()
    {
        var band = BandDocument.Of(Key(MarginKind.Axle, 1), Limit(11_500, 1_200, 0), Rigid())!;
        Assert.True(band.HouseRule);
        Assert.Contains("house rule", band.Words);
    }

    [Fact]
    public void What_is_no_mass_by_law_has_none()
    {
        Assert.Null(BandDocument.Of(Key(MarginKind.DrivingShare, -1), Limit(0.25, 100, 0), Rigid()));
        Assert.Null(BandDocument.Of(Key(MarginKind.AxleRating, 1), Limit(11_500, 100, 0) with { Standing = MarginStanding.Technical }, Rigid()));
        Assert.Null(BandDocument.Of(Key(MarginKind.Gross, -1), Limit(18_000, 1_000, 0), null));
    }

    private static FindingKey Key(MarginKind kind, int element) => new(FindingKind.Overload, new MarginKey(kind, 0, element), -1);

    private static EpisodeSubject.Limit Limit(double limit, double excess, double sd) => new()
    {
        Value = limit, Scale = limit, Standing = MarginStanding.Law, Source = new LimitSource("a table", "", default, LimitStatus.InForce), Note = "",
        Load = new Estimated(limit + excess, sd), Opening = new Estimated(excess, sd), Peak = new Estimated(excess, sd), PeakAt = new Moment(0),
    };

    private static Combination Rigid()
    {
        var text = File.ReadAllBytes(ExampleFiles.Rigid);
        var vehicle = Assert.IsType<VehicleFileResult.Accepted>(VehicleFile.Parse(text)).Vehicle;
        return Assert.IsType<CouplingResult.Coupled>(Combination.Couple([vehicle])).Combination;
    }
}
