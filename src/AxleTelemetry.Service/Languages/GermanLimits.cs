using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Service.Languages;

/// <summary>A limit that is passed and what would end it, in German, from the same verdict and remedies as in English. Nothing is to be raised before the next stop.</summary>
internal sealed class GermanLimits(GermanNames names)
{
    /// <summary>What is on the limited thing, with its interval; by how much it is over what; how sure.</summary>
    public string Over(in Verdict verdict, double load, Level level)
    {
        var share = IsShare(verdict.Margin.Key.Kind);
        var seen = share ? GermanTexts.Of("GiveOrTake", Share(verdict, load), Share(verdict, verdict.Excess.HalfWidth)) : GermanTexts.Of("GiveOrTake", GermanAmount.Tonnes(load), GermanAmount.Tonnes(verdict.Excess.HalfWidth));
        var limit = share ? GermanAmount.Percent(verdict.Margin.Limit) : GermanAmount.Limit(verdict.Margin.Limit);
        var text = verdict.Margin.Key.Kind switch
        {
            MarginKind.Axle or MarginKind.Group or MarginKind.Gross or MarginKind.CombinationGross or MarginKind.CouplingMost or MarginKind.Bridge => "OverMass",
            MarginKind.AxleRating => "OverAxleRating",
            MarginKind.TyreRating => "OverTyreRating",
            MarginKind.CouplingLeast => "OverCouplingLeast",
            MarginKind.DrivingShare => "OverDrivingShare",
            MarginKind.SteeringShare => "OverSteeringShare",
            _ => throw new ArgumentOutOfRangeException(nameof(verdict), verdict.Margin.Key.Kind, "Unknown kind."),
        };
        return GermanTexts.Of(text, GermanTexts.Begin(names.Limited(verdict.Margin)), seen, GermanAmount.Excess(verdict.Excess.Mean), limit, Sure(level));
    }

    /// <summary>How sure, in a word.</summary>
    public static string Sure(Level level) => GermanTexts.Of($"Sure{level}");

    /// <summary>The best of several remedies in one sentence.</summary>
    public string Best(ImmutableArray<Remedy> remedies)
    {
        if (remedies.IsEmpty) return GermanTexts.Of("NoRemedy");
        if (remedies.OfType<Remedy.SetAxles>().FirstOrDefault() is { } axles) return SetAxles(axles);
        var off = remedies.OfType<Remedy.TakeOff>().FirstOrDefault();
        var shift = remedies.OfType<Remedy.Shift>().FirstOrDefault();
        var words = (off, shift) switch
        {
            ({ }, { }) => GermanTexts.Of("Or", TakeOff(off), Shift(shift)),
            ({ }, null) => TakeOff(off),
            (null, { }) => Shift(shift),
            _ => throw new ArgumentOutOfRangeException(nameof(remedies), remedies[0], "Unknown remedy."),
        };
        return GermanTexts.Of("Sentence", GermanTexts.Begin(With(words, off?.Then ?? shift!.Then)));
    }

    /// <summary>What will be on the closest limit.</summary>
    public string Then(in Verdict verdict)
    {
        var (kind, sure, mass) = (verdict.Margin.Key.Kind, verdict.Deviations <= -Levels.SurelyFrom, verdict.Margin.Constant > 0);
        var load = Load(verdict) + (!sure ? 0 : mass ? verdict.Excess.HalfWidth : -verdict.Excess.HalfWidth);
        var (seen, limit) = IsShare(kind) ? (Share(verdict, load), GermanAmount.Percent(verdict.Margin.Limit)) : (GermanAmount.Tonnes(load), GermanAmount.Limit(verdict.Margin.Limit));
        var text = (sure, mass) switch { (true, true) => "ThenMost", (true, false) => "ThenLeast", (false, true) => "ThenAbout", (false, false) => "ThenAboutLeast" };
        return GermanTexts.Of(text, seen, limit, names.Limited(verdict.Margin));
    }

    /// <summary>What is on the limited thing: of a share the load that is too small.</summary>
    public static double Load(in Verdict verdict) => verdict.Margin.Constant > 0 ? verdict.Excess.Mean + verdict.Margin.Constant : verdict.Scale - verdict.Excess.Mean;

    private string SetAxles(Remedy.SetAxles axles)
    {
        var then = Then(axles.Tightest);
        var act = (axles.Lower, axles.Raise) switch
        {
            ([], var raise) => GermanTexts.Of("Raise", names.Axles(raise), then),
            (var lower, []) => GermanTexts.Of("Lower", names.Axles(lower), then),
            var (lower, raise) => GermanTexts.Of("LowerAndRaise", names.Axles(lower), names.Axles(raise), then),
        };
        return axles.AutomaticallyUndone.IsEmpty ? act : GermanTexts.Of("Undone", act, names.Axles(axles.AutomaticallyUndone));
    }

    private string TakeOff(Remedy.TakeOff off)
    {
        var amount = GermanAmount.TonnesUp(off.Kilograms);
        var sure = off.SureKilograms is { } kilograms ? GermanAmount.TonnesUp(kilograms) : null;
        var words = GermanTexts.Of("TakeOff", amount, Of(off.Body), GermanTexts.Of($"Place{off.From}"));
        if (sure is null) return GermanTexts.Of("TakeOffNever", words);
        return sure == amount ? GermanTexts.Of("TakeOffSure", words) : GermanTexts.Of("TakeOffMore", words, sure);
    }

    private string Shift(Remedy.Shift shift) =>
        GermanTexts.Of(shift.Metres < 0 ? "ShiftForward" : "ShiftRearward", GermanAmount.TonnesUp(shift.Kilograms), Of(shift.Body), GermanAmount.MetresUp(Math.Abs(shift.Metres)));

    private string Of(int body) => names.Combination is { } all && all.Bodies.Count(b => b.StateIndex >= 0) > 1 ? GermanTexts.Of("OfVehicle", names.Vehicle(body)) : "";

    private string With(string words, Configuration then)
    {
        if (names.Combination is not { Liftable: not 0 } all) return words;
        var states = all.Axles.Where(a => a.Axle.Lift is not null).GroupBy(a => then[a.Index], a => a.Index).OrderByDescending(g => g.Key);
        return GermanTexts.Of("DriveWith", words, GermanTexts.List([.. states.Select(g => GermanTexts.Of($"Lift{g.Key}", names.Axles(g)))]));
    }

    private static bool IsShare(MarginKind kind) => kind is MarginKind.DrivingShare or MarginKind.SteeringShare;

    private static string Share(in Verdict verdict, double load) => GermanAmount.Percent(load * verdict.Margin.Limit / verdict.Scale);
}
