using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Places;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Tests.Limits;
using AxleTelemetry.Domain.Tests.Scenarios;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Messages.Limits;
using AxleTelemetry.Simulator.Journeys;

namespace AxleTelemetry.Domain.Tests.Lanes;

/// <summary>A truck whose driving axle carries more than the 10 t of its country on a national trip, and less than the 12 t of its permit.</summary>
public sealed class PermitInForceTests
{
    private const string Head = """
        vehicle rigid-6x2-tag
        calibration tickets
        trip national
        seed 21

        journey
        load 15.5 t at 4.4 m in 10 min
        stop 5 min

        """;

    private static readonly Country Here = Country.From("MD");

    [Fact]
    public void Within_its_days_and_country_the_permit_counts() => Assert.Empty(OfDrive(Drive("drive 20 km at 70 km/h", Permit())));

    [Fact]
    public void Without_it_the_law_does() => Assert.NotEmpty(OfDrive(Drive("drive 20 km at 70 km/h")));

    [Fact]
    public void Outside_its_days_the_law_does() =>
        Assert.NotEmpty(OfDrive(Drive("drive 20 km at 70 km/h", Permit() with { Until = new(2000, 1, 1), From = new(1999, 1, 1) })));

    [Fact]
    public void In_another_country_the_law_does() => Assert.NotEmpty(OfDrive(Drive("drive 20 km at 70 km/h", Permit() with { Countries = [Country.From("AT")] })));

    [Fact]
    public void Of_another_vehicle_it_does_not_concern_this_one() => Assert.NotEmpty(OfDrive(Drive("drive 20 km at 70 km/h", Permit() with { Vehicles = ["XX-9"] })));

    [Theory]
    [InlineData(75, false)]
    [InlineData(60, true)]
    public void Driven_faster_than_it_allows_it_holds_no_more(double mostKmh, bool over)
    {
        var said = Drive("drive 20 km at 70 km/h", Permit() with { MostSpeed = mostKmh / 3.6 });
        Assert.Equal(over, OfDrive(said).Count > 0);
        if (over) Assert.Contains("Permit P-1 does not hold: driven faster than 60 km/h", Verdict(OfDrive(said)[0]).Margin.Note);
    }

    [Fact]
    public void Once_broken_it_stays_so_until_another_load_is_aboard()
    {
        var slow = "drive 15 km at 50 km/h\n";
        var journey = "drive 15 km at 70 km/h\n" + slow + "stop 5 min\nload 3.0 t at 4.4 m in 15 min\nstop 5 min\n" + slow + "stop 5 min\nload 15.5 t at 4.4 m in 15 min\nstop 5 min\n" + slow;
        var said = Drive(journey, Permit() with { MostSpeed = 60 / 3.6 });
        Assert.Equal(2, OfDrive(Drive(journey)).Count);
        var opened = Assert.Single(OfDrive(said));
        var loaded = said.OfType<LaneOutput.LoadBegan>().Skip(1).First().At;
        Assert.True(opened.At < loaded, "only the first load broke it");
        var ended = Assert.Single(said.OfType<LaneOutput.Episode>(), e => e.Key == opened.Key && e.Change == EpisodeChange.Closed);
        Assert.True(ended.At >= loaded, "driving slower afterwards does not make it hold again");
    }

    private static List<LaneOutput.Episode> OfDrive(List<LaneOutput> said) =>
        [.. said.OfType<LaneOutput.Episode>().Where(e => e is { Change: EpisodeChange.Opened, Key: { Kind: FindingKind.Overload, Margin: { Kind: MarginKind.Axle, Element: 1 } } })];

    private static Verdict Verdict(LaneOutput.Episode episode) => Assert.IsType<FindingDetail.Excess>(episode.Detail).Verdict;

    private static Permit Permit() => new()
    {
        Id = "P-1",
        Authority = "the road authority",
        Vehicles = [Script("drive 1 km at 50 km/h").Combination.Id],
        Countries = [Here],
        From = new(2020, 1, 1),
        Until = new(2030, 12, 31),
        Masses = [new PermittedMass.OfAxles([new(Script("drive 1 km at 50 km/h").Combination.Id, "drive")]) { Kilograms = 12_000 }],
    };

    private static List<LaneOutput> Drive(string journey, params Permit[] permits)
    {
        var script = Script(journey);
        var book = Assert.IsType<LimitBookResult.Made>(LimitBook.Of([LimitFleet.Directive, ((LimitSetResult.Parsed)LimitSetFile.Shipped("md-national")).Set])).Book;
        var law = LaneLaw.ByPlace(script.Combination, book, LimitFleet.National, new OneCountry(), permits);
        var lane = new Lane(new LaneSetup(script.Combination, script.Fits, law));
        var outputs = new List<LaneOutput>();
        foreach (var (body, reading) in JourneyReadings.Of(script, JourneyPlayer.Play(script))) lane.Step(body, reading, outputs);
        return outputs;
    }

    private static JourneyScript Script(string journey) =>
        Assert.IsType<JourneyResult.Accepted>(JourneyText.Read($"{Head}{journey}\nstop 2 min\n\nfindings\n", Repository.Vehicle)).Script;

    private sealed class OneCountry : ICountryMap
    {
        public Whereabouts At(double latitude, double longitude, double accuracyMetres) => Whereabouts.Within(Here);
    }
}
