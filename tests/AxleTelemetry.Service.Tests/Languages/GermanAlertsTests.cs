using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Telling;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Service.Languages;
using AxleTelemetry.Service.Telling;
using AxleTelemetry.Service.Tests.Delivering;
using AxleTelemetry.Service.Tests.Serving;

namespace AxleTelemetry.Service.Tests.Languages;

/// <summary>Alerts in German: whole, in tonnes with a decimal comma, and saying what the English sentence says.</summary>
public sealed class GermanAlertsTests
{
    private static readonly Combination Rigid = ((CouplingResult.Coupled)Combination.Couple([RandomFleet.Scene.Vehicles[0]])).Combination;
    private static readonly Combination Train = ((CouplingResult.Coupled)Combination.Couple([RandomFleet.Scene.Vehicles[3], RandomFleet.Scene.Vehicles[5]])).Combination;

    /// <summary>Every kind that can be told as an alert, whatever its standing and level, and a vehicle that is not heard.</summary>
    public static TheoryData<string> Kinds { get; } =
    [
        .. Enum.GetValues<FindingKind>().Where(k => Enum.GetValues<Level>().Any(l => AlertPolicy.PriorityOf(new AlertSubject(new FindingKey(k, default, 0)), MarginStanding.Law, l) is not null)).Select(k => k.ToString()), nameof(AlertSubject.VehicleSilent),
    ];

    [Theory]
    [MemberData(nameof(Kinds))]
    public void Every_kind_that_is_told_has_its_words_when_it_begins_and_ends_with_and_without_its_vehicles(string name)
    {
        FindingKind? kind = Enum.TryParse<FindingKind>(name, out var parsed) ? parsed : null;
        var began = Told.Change(kind: kind);
        var ended = began with { Number = 2, Cause = new AlertCause.Returned(), State = new AlertState.ReturnedUnacknowledged(began.At), Rings = false };
        foreach (var combination in (Combination?[])[Rigid, Train, null])
        {
            foreach (var change in (AlertChange[])[began, ended])
            {
                IsGerman(new GermanAlerts(combination).Of(change, TimeSpan.FromMinutes(40)), change);
                foreach (var detail in Details(kind))
                {
                    if (kind is not { } found) continue;
                    foreach (var moved in Enum.GetValues<EpisodeChange>())
                        IsGerman(new GermanAlerts(combination).Of(change with { Episode = new LaneOutput.Episode(began.At, change.Id.Subject.Finding!.Value, moved, Level.Surely, Told.Since, detail) }, null), change);
                }
            }
        }

        // The journal holds both, so that nobody depends on who reads what at present.
        Assert.NotNull(AlertChangeJson.Document(began, Rigid).InOtherLanguages?["de"]);
    }

    [Fact]
    public void Every_kind_of_limit_is_said_with_every_level()
    {
        foreach (var kind in Enum.GetValues<MarginKind>())
        {
            foreach (var level in Enum.GetValues<Level>())
            {
                var key = new FindingKey(FindingKind.Overload, new MarginKey(kind, 0, kind is MarginKind.Bridge ? 1 : 0), -1);
                var change = Told.Change() with { Id = new AlertId(new VehicleName("north", "RT-01"), new AlertSubject(key), Told.Since), Level = level };
                IsGerman(new GermanAlerts(Train).Of(change, null), change);
                IsGerman(new GermanAlerts(null).Of(change, null), change);
            }
        }
    }

    [Fact]
    public void A_drive_axle_over_its_limit_with_the_axle_to_lower()
    {
        var margin = new Margin { Key = new MarginKey(MarginKind.Axle, 0, 1), Weights = [], Constant = 11_500, Limit = 11_500, Source = new LimitSource("", "", DateOnly.MinValue, LimitStatus.VehiclePapers), Standing = MarginStanding.Law };
        var then = new Verdict(margin, new Estimated(-1_500, 200), 11_500);
        var over = new FindingDetail.Excess(new Verdict(margin, new Estimated(900, 250), 11_500), new Estimated(12_400, 250), [new Remedy.SetAxles([2], [], default, then, [])]);
        Assert.Equal("Achse 2 (Antriebsachse): 12,4 t, plus/minus 0,5 t; 0,9 t über dem Grenzwert von 11,5 t (sicher). Achse 3 (Nachlaufachse) absenken: danach höchstens 10,4 t von 11,5 t (Achse 2 (Antriebsachse)).", Said(over));
        Assert.Equal("Achse 2 (Antriebsachse) über dem Grenzwert", new GermanAlerts(Rigid).Of(Told.Change(), null).About);
        Assert.EndsWith("Beim nächsten Halt Achse 3 (Nachlaufachse) anheben: danach höchstens 10,4 t von 11,5 t (Achse 2 (Antriebsachse)).", Said(over with { Remedies = [new Remedy.SetAxles([], [2], default, then, [])] }), StringComparison.Ordinal);
        Assert.EndsWith("1,3 t hinten abladen (1,8 t, um sicher zu sein) oder 2,0 t um 0,9 m nach vorn verschieben, dann mit Achse 3 (Nachlaufachse) abgesenkt fahren.",
            Said(over with { Remedies = [new Remedy.TakeOff(0, LoadPlace.Rear, 0, 1_250, 1_800, default), new Remedy.Shift(0, 0, 2_000, -0.9, default)] }), StringComparison.Ordinal);
        Assert.EndsWith("Keine Liftstellung, kein Abladen und kein Verschieben der Ladung würde es beenden.", Said(over with { Remedies = [] }), StringComparison.Ordinal);
    }

    private static string Said(FindingDetail.Excess over) =>
        new GermanAlerts(Rigid).Of(Told.Change() with { Episode = new LaneOutput.Episode(Told.Since, Told.Change().Id.Subject.Finding!.Value, EpisodeChange.Opened, Level.Surely, Told.Since, over) }, null).Sentence;

    private static ImmutableArray<FindingDetail> Details(FindingKind? kind) => kind switch
    {
        FindingKind.AutomaticLoweringDidNotAct => [new FindingDetail.None(), new FindingDetail.DidNotAct(0.7, 0.2999, 0.0001)],
        FindingKind.LiftDisputed or FindingKind.PressureStep or FindingKind.SensorDrifts or FindingKind.SplitDeparts or FindingKind.PayloadImplausible or FindingKind.RaisedForNothing => [new FindingDetail.None(), new FindingDetail.Measured(1234, "kg")],
        _ => [new FindingDetail.None()],
    };

    private static void IsGerman(AlertWords words, AlertChange change)
    {
        Assert.NotEmpty(words.About);
        Assert.Matches("[.]$", words.Sentence);
        var text = $" {words.About} {words.Sentence} ".Replace(change.Id.Vehicle.Id, "X", StringComparison.Ordinal);
        foreach (var english in (string[])[" the ", " axle", " over ", " limit", " sure", " and ", " is ", " raise", " lower", "{", "  "]) Assert.DoesNotContain(english, text, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotMatch(@"\d\.\d", text);
    }
}
