using System.Collections.Immutable;
using System.Text;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Telling;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Service.Telling;
using AxleTelemetry.Service.Tests.Serving;

namespace AxleTelemetry.Service.Tests.Telling;

/// <summary>What the journal keeps of an alert and listeners are sent.</summary>
public sealed class AlertChangeJsonTests
{
    private static readonly VehicleName Truck = new("north", "RT-01");
    private static readonly FindingKey Drive = new(FindingKind.Overload, new MarginKey(MarginKind.Axle, 0, 1), -1);
    private static readonly Moment Since = new(1_772_431_200_000);
    private static readonly Combination Rigid = ((CouplingResult.Coupled)Combination.Couple([RandomFleet.Scene.Vehicles[0]])).Combination;

    [Fact]
    public void An_overload_is_said_with_its_figures_and_read_back_as_it_was_written()
    {
        var bytes = AlertChangeJson.Write(Change(new AlertCause.Began(), new AlertState.Unacknowledged()), Rigid);
        var read = AlertChangeJson.Read(bytes)!;
        Assert.Equal("north/RT-01/Overload:Axle:0:1/1772431200000", read.Id);
        Assert.Equal("axle 2 (drive) over its limit", read.About);
        Assert.Equal("Axle 2 (drive): 12.4 t, give or take 0.5 t; 0.9 t over 11.5 t (sure).", read.Sentence);
        Assert.Equal((900, 250, 410, 1390, 11_500), (read.Figures!.ExcessKg.Mean, read.Figures.ExcessKg.Sd, read.Figures.ExcessKg.Low, read.Figures.ExcessKg.High, read.Figures.LimitKg));
        Assert.Equal(("began", "unacknowledged", "high", "surely"), (read.Cause, read.State.Code, read.Priority, read.Level));
        Assert.Contains("\"at\":\"2026-03-02T06:01:00.000Z\"", Encoding.UTF8.GetString(bytes));
        Assert.Equal(Encoding.UTF8.GetString(bytes), Encoding.UTF8.GetString(AlertChangeJson.Write(Change(new AlertCause.Began(), new AlertState.Unacknowledged()), Rigid)));
    }

    [Fact]
    public void The_remedy_of_an_overload_stands_by_itself_too_and_none_is_left_once_it_ended()
    {
        var verdict = new Verdict(new Margin { Key = Drive.Margin, Weights = [0, 1, 0], Constant = 11_500, Limit = 11_500, Source = new LimitSource("", "", DateOnly.MinValue, LimitStatus.VehiclePapers), Standing = MarginStanding.Law }, new Estimated(900, 250), 11_500);
        var episode = new LaneOutput.Episode(Since.Plus(60), Drive, EpisodeChange.Opened, Level.Surely, Since, new FindingDetail.Excess(verdict, new Estimated(12_400, 250), [new Remedy.TakeOff(0, LoadPlace.Rear, 7, 1_250, 1_600, default)]));
        var read = AlertChangeJson.Document(Change(new AlertCause.Began(), new AlertState.Unacknowledged()) with { Episode = episode }, Rigid);
        Assert.StartsWith("Take off 1.3 t at the rear (1.6 t to be sure)", read.Remedy);
        Assert.EndsWith($"(sure). {read.Remedy}", read.Sentence);
        var ended = Change(new AlertCause.Returned(), new AlertState.ReturnedUnacknowledged(Since.Plus(60))) with { Episode = episode with { Change = EpisodeChange.Closed } };
        Assert.Null(AlertChangeJson.Document(ended, Rigid).Remedy);
    }

    [Fact]
    public void Vehicles_that_are_not_known_are_told_by_place()
    {
        var read = AlertChangeJson.Document(Change(new AlertCause.Began(), new AlertState.Unacknowledged()), null);
        Assert.Equal("axle 2 of the combination over its limit", read.About);
        Assert.Equal("Axle 2 of the combination over its limit.", read.Sentence);
    }

    [Fact]
    public void An_episode_of_parts_that_the_vehicles_no_longer_have_is_told_by_place()
    {
        var key = new FindingKey(FindingKind.LoweredForNothing, default, 7);
        var ended = new LaneOutput.Episode(Since.Plus(60), key, EpisodeChange.Closed, Level.Clear, Since, new FindingDetail.None());
        var change = Change(new AlertCause.Returned(), new AlertState.ReturnedUnacknowledged(Since.Plus(60))) with { Id = new AlertId(Truck, new AlertSubject(key), Since), Figures = null, Episode = ended };
        Assert.Equal("Ended: axle 8 of the combination down for nothing.", AlertChangeJson.Document(change, Rigid).Sentence);
    }

    [Fact]
    public void A_silent_vehicle_is_told_with_its_habit()
    {
        var change = Change(new AlertCause.Began(), new AlertState.Unacknowledged()) with { Id = new AlertId(Truck, AlertSubject.VehicleSilent, Since), At = Since.Plus(5400), Figures = null };
        Assert.Equal("RT-01 has not been heard for 1 h 30 min. Its longest usual silence is 40 min. Look at its unit and its coverage.", AlertChangeJson.Document(change, null, TimeSpan.FromMinutes(40)).Sentence);
        var back = change with { State = new AlertState.ReturnedUnacknowledged(change.At), Cause = new AlertCause.Returned() };
        Assert.Equal("Ended: RT-01 is heard again.", AlertChangeJson.Document(back, null).Sentence);
    }

    [Fact]
    public void What_a_person_did_is_told_with_name_and_words()
    {
        var shelve = new OperatorAction.Shelve("desk", "in the workshop", Since.Plus(3600));
        var state = new AlertState.Shelved(new Act("desk", Since), "in the workshop", Since.Plus(3600), new AlertState.Unacknowledged());
        var read = AlertChangeJson.Document(Change(new AlertCause.Acted(shelve), state), Rigid);
        Assert.Equal("Shelved by desk until 2026-03-02T07:00:00.000Z: in the workshop", read.Happened);
        Assert.Equal(("shelve", "shelved", "unacknowledged", "desk"), (read.Cause, read.State.Code, read.State.Behind, read.State.Who));
    }

    [Fact]
    public void Every_finding_has_words_with_and_without_its_vehicles()
    {
        var margins = Enum.GetValues<MarginKind>().Select(k => new FindingKey(FindingKind.Overload, new MarginKey(k, 0, k is MarginKind.Axle or MarginKind.AxleRating or MarginKind.TyreRating ? 1 : k == MarginKind.Group ? 1 : -1), -1));
        var others = Enum.GetValues<FindingKind>().Where(k => k is not (FindingKind.Overload or FindingKind.CannotTell)).Select(k => new FindingKey(k, default, 0));
        foreach (var key in margins.Concat(others))
        {
            foreach (var combination in (Combination?[])[Rigid, null])
            {
                var words = new SubjectWords(new PartNames(combination));
                Assert.NotEmpty(words.Of(key));
                Assert.EndsWith(".", words.Sentence(key, Level.Surely, new AlertFigures(900, 250, 11_500)));
                // Of a description with fewer parts by now.
                Assert.NotEmpty(words.Sentence(key with { Element = 40, Margin = key.Margin with { Element = 40, Body = 5 } }, Level.Likely, null));
            }
        }
    }

    [Fact]
    public void Every_refusal_of_an_action_is_a_sentence_with_a_status()
    {
        foreach (var refusal in Enum.GetValues<ActionRefusal>())
        {
            Assert.EndsWith(".", ActionRefusalWords.Of(refusal));
            Assert.Contains(ActionRefusalWords.Status(refusal), (int[])[404, 409, 422]);
        }
    }

    [Theory]
    [InlineData("")]
    [InlineData("{")]
    [InlineData("{}")]
    [InlineData("[]")]
    public void Bytes_that_are_no_change_are_none(string text) => Assert.Null(AlertChangeJson.Read(Encoding.UTF8.GetBytes(text)));

    private static AlertChange Change(AlertCause cause, AlertState state) => new()
    {
        Id = new AlertId(Truck, new AlertSubject(Drive), Since),
        Number = 1,
        At = Since.Plus(60),
        Position = new LogPosition(7, 0),
        Cause = cause,
        State = state,
        Priority = AlertPriority.High,
        Rings = true,
        Level = Level.Surely,
        Count = 1,
        With = [],
        Figures = new AlertFigures(900, 250, 11_500),
        Source = new LogPosition(7, 3),
    };
}
