using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Domain.Telling;
using AxleTelemetry.Domain.Wording;
using AxleTelemetry.Service.Serving;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Service.Telling;
using AxleTelemetry.Service.Watching;

namespace AxleTelemetry.Service.Overview;

/// <summary>From a vehicle's state to its document. Pure.</summary>
internal static class VehicleWriting
{
    public static VehicleDocument Of(VehicleState state) => Of(Plain(state), state.View);

    private static VehicleDocument Plain(VehicleState state) => new()
    {
        Fleet = state.Name.Fleet,
        Vehicle = state.Name.Id,
        Name = state.Description.Name,
        Plate = state.Description.Plate,
        Kind = JsonText.Word(state.Description.Kind),
        HeardAt = state.HeardAt,
        NewestReadingAt = state.NewestReading,
        Online = state.Online,
        Behind = state.Behind?.Id,
        Members = [.. state.Members.Select(m => m.Id)],
        Undescribed = [],
        Axles = [],
        Findings = [],
        NotCoupled = state.NotCoupled,
        CorrectedFrom = state.CorrectedFrom,
        StoppedBy = state.StoppedBy,
    };

    private static VehicleDocument Of(VehicleDocument plain, LaneView? view)
    {
        if (view is null) return plain;
        var sentences = new Sentences(view.Combination);
        return plain with
        {
            Undescribed = [.. view.Combination.Vehicles.Where(v => v.IsStandIn).Select(v => v.Id)],
            Movement = JsonText.Word(view.Movement),
            Lifts = sentences.Lifts(view.Configuration),
            Standing = JsonText.Word(view.Standing),
            StandingWords = UnitText.Worth(view),
            MeasuredAt = view.MeasuredAt,
            AgeS = view.AgeSeconds is { } age ? Interval.Rounded(age) : null,
            Gross = Load(view.Gross, sentences.Names),
            Axles = [.. view.Axles.Select(a => Axle(view, a, sentences.Names))],
            Nearest = Nearest(view) is { } nearest ? LimitDocument.Of(nearest, sentences.Names) : null,
            Findings = [.. view.Open.Select(f => Finding(view, f))],
            Position = PositionDocument.Of(view.Place),
            Country = CountryDocument.Of(view, sentences.Names),
        };
    }

    private static AxleDocument Axle(LaneView view, AxleView axle, Names names) => new(
        view.Combination.Vehicles[axle.Part.Body].Id, axle.Part.Axle.Key, names.Axle(axle.Part.Index), JsonText.Word(axle.State), JsonText.Word(axle.Basis), Load(axle.Load, names),
        axle.Reason > LiftReason.None ? JsonText.Word(axle.Reason) : null);

    private static LoadDocument? Load(LimitedLoad? load, Names names) => load is { } known
        ? new(Interval.Of(known.Load), known.Closest is { } closest ? LimitDocument.Of(closest, names) : null)
        : null;

    private static FindingDocument Finding(LaneView view, OpenFinding found)
    {
        var words = new SubjectWords(new PartNames(view.Combination));
        var figures = Verdicts(view).Where(v => v.Margin.Key == found.Key.Margin).Select(v => (AlertFigures?)new AlertFigures(v.Excess.Mean, v.Excess.Sd, v.Scale)).FirstOrDefault();
        return new(new AlertSubject(found.Key).ToString(), words.Of(found.Key), JsonText.Word(found.Level), found.Since, words.Sentence(found.Key, found.Level, figures));
    }

    private static Verdict? Nearest(LaneView view)
    {
        var all = Verdicts(view);
        return all.IsEmpty ? null : all.MaxBy(v => v.Scale > 0 ? v.Excess.Mean / v.Scale : double.NegativeInfinity);
    }

    private static ImmutableArray<Verdict> Verdicts(LaneView view) =>
        [.. view.Axles.Select(a => a.Load?.Closest).Append(view.Gross?.Closest).OfType<Verdict>()];
}
