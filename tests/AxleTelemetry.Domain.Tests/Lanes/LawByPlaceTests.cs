using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Places;
using AxleTelemetry.Domain.Tests.Limits;
using AxleTelemetry.Domain.Tests.Scenarios;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Messages.Limits;
using AxleTelemetry.Simulator.Journeys;

namespace AxleTelemetry.Domain.Tests.Lanes;

/// <summary>
/// A truck drives east over a border that runs along a meridian, some 19 km away. Its driving axle carries more than 10 t and less than 11.5 t, and those are the
/// limits of the two countries for a national trip.
/// </summary>
public sealed class LawByPlaceTests
{
    private const string Journey = """
        vehicle rigid-6x2-tag
        calibration tickets
        trip national
        seed 21

        journey
        load 15.5 t at 4.4 m in 10 min
        stop 5 min
        drive 40 km at 70 km/h
        stop 2 min

        findings
        """;

    private const double Border = 15.85;

    [Fact]
    public void Ahead_of_the_stricter_country_it_is_told_once_and_counts_behind_the_border()
    {
        var said = Drive("AT", "MD");
        var ahead = Assert.Single(Opened(said, FindingKind.OverAcrossBorder));
        var excess = Assert.IsType<FindingDetail.Excess>(ahead.Episode.Detail);
        Assert.Equal("MD", excess.Across.Code);
        Assert.Equal(10_000, excess.Verdict.Margin.Limit);
        Assert.InRange(ahead.Longitude, Border - 2_100 / 77_000.0, Border);
        var over = Assert.Single(OfDrive(said));
        Assert.True(over.Longitude > Border, "what is passed counts behind the border");
        Assert.Contains("Moldova", Assert.IsType<FindingDetail.Excess>(over.Episode.Detail).Verdict.Margin.Source.Title);
        Assert.Contains("Across the border ahead (MD) it would be over. Axle 2 (drive)", new Domain.Wording.Sentences(Script().Combination).Of(ahead.Episode));
    }

    [Fact]
    public void Out_of_the_stricter_country_the_row_of_its_law_ends_at_the_border()
    {
        var said = Drive("MD", "AT");
        var over = Assert.Single(OfDrive(said));
        var ended = said.First(s => s.Episode.Key == over.Episode.Key && s.Episode.Change == EpisodeChange.Closed);
        Assert.InRange(ended.Longitude, Border, Border + 0.01);
        Assert.Empty(Opened(said, FindingKind.OverAcrossBorder));
    }

    [Fact]
    public void Where_the_side_cannot_be_told_it_says_so_and_what_differs_does_not_count()
    {
        var said = Drive("AT", "MD");
        var undecided = Assert.Single(Opened(said, FindingKind.CountryUndecided));
        Assert.InRange(undecided.Longitude, Border - 0.0045, Border);
        var told = said.First(s => s.Episode.Key.Kind == FindingKind.CountryUndecided && s.Episode.Change == EpisodeChange.Closed);
        Assert.InRange(told.Longitude, Border, Border + 0.0075);
    }

    [Fact]
    public void Near_the_border_both_limits_stand_beside_each_other_and_elsewhere_none()
    {
        LaneView? undecided = null, before = null;
        Drive("AT", "MD", look: lane =>
        {
            if (lane.State.Place.Kind == (int)PlaceKind.Undecided) undecided ??= lane.View();
            else if (lane.State.Place.Kind == (int)PlaceKind.Within) before ??= lane.View();
        });
        Assert.Empty(before!.Differing);
        var drive = Assert.Single(undecided!.Differing, d => d.Here?.Margin.Key == new MarginKey(MarginKind.Axle, 0, 1));
        Assert.Equal((11_500, 10_000), (drive.Here!.Value.Margin.Limit, drive.Across!.Value.Margin.Limit));
        Assert.True(drive is { Here.Excess.Mean: < 0, Across.Excess.Mean: > 0 });
    }

    [Fact]
    public void Between_countries_of_one_limit_a_border_is_no_news()
    {
        var said = Drive("AT", "SI");
        Assert.DoesNotContain(said, s => s.Episode.Key.Kind is FindingKind.OverAcrossBorder or FindingKind.CountryUndecided);
        Assert.Empty(OfDrive(said));
    }

    [Fact]
    public void An_international_trip_knows_no_national_limit() =>
        Assert.Empty(OfDrive(Drive("AT", "MD", TripKind.International)));

    private static IEnumerable<(LaneOutput.Episode Episode, double Longitude)> OfDrive(List<(LaneOutput.Episode Episode, double Longitude)> said) =>
        Opened(said, FindingKind.Overload).Where(s => s.Episode.Key.Margin is { Kind: MarginKind.Axle, Element: 1 });

    private static IEnumerable<(LaneOutput.Episode Episode, double Longitude)> Opened(List<(LaneOutput.Episode Episode, double Longitude)> said, FindingKind kind) =>
        said.Where(s => s.Episode.Key.Kind == kind && s.Episode.Change == EpisodeChange.Opened);

    private static List<(LaneOutput.Episode Episode, double Longitude)> Drive(string west, string east, TripKind trip = TripKind.National, Action<Lane>? look = null)
    {
        var script = Script();
        var book = Assert.IsType<LimitBookResult.Made>(LimitBook.Of([LimitFleet.Directive, Set(west), Set(east)])).Book;
        var law = LaneLaw.ByPlace(script.Combination, book, new LimitContext { Trip = trip }, new Meridian(Border, Country.From(west), Country.From(east)));
        var lane = new Lane(new LaneSetup(script.Combination, script.Fits, law));
        var (outputs, said) = (new List<LaneOutput>(), new List<(LaneOutput.Episode, double)>());
        foreach (var (body, reading) in JourneyReadings.Of(script, JourneyPlayer.Play(script)))
        {
            lane.Step(body, reading, outputs);
            said.AddRange(outputs.OfType<LaneOutput.Episode>().Select(e => (e, lane.State.Motion.Longitude)));
            outputs.Clear();
            look?.Invoke(lane);
        }

        Assert.True(lane.State.Motion.Longitude > Border + 0.05, "it came across");
        return said;
    }

    private static JourneyScript Script() => Assert.IsType<JourneyResult.Accepted>(JourneyText.Read(Journey, Repository.Vehicle)).Script;

    private static LimitSet Set(string country) => ((LimitSetResult.Parsed)LimitSetFile.Shipped($"{country.ToLowerInvariant()}-national")).Set;

    /// <summary>Two countries and a border along a meridian; outlines are 250 m off.</summary>
    private sealed class Meridian(double border, Country west, Country east) : ICountryMap
    {
        public Whereabouts At(double latitude, double longitude, double accuracyMetres)
        {
            var metres = Earth.Metres(new GeoPoint(latitude, longitude), new GeoPoint(latitude, border));
            var (here, across, bearing) = longitude < border ? (west, east, 90.0) : (east, west, 270.0);
            var accuracy = double.IsNaN(accuracyMetres) ? 25 : accuracyMetres;
            return metres > Math.Max(2_000, 3 * accuracy)
                ? Whereabouts.Within(here)
                : new Whereabouts(metres <= accuracy + 250 ? PlaceKind.Undecided : PlaceKind.NearBorder, here, across, metres, bearing);
        }
    }
}
