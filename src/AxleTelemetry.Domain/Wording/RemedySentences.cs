using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Wording;

/// <summary>What can be done, in words. An axle is never to be raised on the way: that waits for the next stop.</summary>
internal sealed class RemedySentences(Combination combination, Names names, LimitSentences limits)
{
    /// <summary>One remedy as a sentence.</summary>
    public string Of(Remedy remedy, Configuration? present) => remedy switch
    {
        Remedy.SetAxles axles => SetAxles(axles),
        Remedy.TakeOff off => $"{Names.Begin(TakeOff(off))}{With(off.Then, present)}.",
        Remedy.Shift shift => $"{Names.Begin(Shift(shift))}{With(shift.Then, present)}.",
        _ => throw new ArgumentOutOfRangeException(nameof(remedy), remedy, "Unknown remedy."),
    };

    /// <summary>The best of several in one sentence: axles, or what to take off and what to move instead.</summary>
    public string Best(ImmutableArray<Remedy> remedies, Configuration? present)
    {
        if (remedies.IsEmpty) return "No lift position, removal or shift of payload would end it.";
        if (remedies.OfType<Remedy.SetAxles>().FirstOrDefault() is { } axles) return SetAxles(axles);
        var off = remedies.OfType<Remedy.TakeOff>().FirstOrDefault();
        var shift = remedies.OfType<Remedy.Shift>().FirstOrDefault();
        if (off is null || shift is null) return Of(remedies[0], present);
        return $"{Names.Begin(TakeOff(off))}, or {Shift(shift)}{With(off.Then, present)}.";
    }

    private string SetAxles(Remedy.SetAxles axles)
    {
        var act = (axles.Lower, axles.Raise) switch
        {
            ([], var raise) => $"At the next stop raise {names.Axles(raise)}",
            (var lower, []) => $"Lower {names.Axles(lower)}",
            var (lower, raise) => $"At the next stop lower {names.Axles(lower)} and raise {names.Axles(raise)}",
        };
        var sentence = $"{act}: then {limits.Then(axles.Tightest)}.";
        return axles.AutomaticallyUndone.IsEmpty ? sentence
            : $"{sentence} The automatic control may set {names.Axles(axles.AutomaticallyUndone)} down again.";
    }

    private string TakeOff(Remedy.TakeOff off)
    {
        var amount = Amount.TonnesUp(off.Kilograms);
        var sure = off.SureKilograms is { } kilograms ? Amount.TonnesUp(kilograms) : null;
        var words = $"take off {amount} {Place(off.From)}{Of(off.Body)}";
        if (sure is null) return $"{words} (no amount there makes it sure)";
        return sure == amount ? $"{words} (which makes it sure)" : $"{words} ({sure} to be sure)";
    }

    private string Shift(Remedy.Shift shift)
    {
        var way = shift.Metres < 0 ? "forward" : "rearward";
        return $"move {Amount.TonnesUp(shift.Kilograms)}{Of(shift.Body)} {way} by {Amount.MetresUp(Math.Abs(shift.Metres))}";
    }

    private string Of(int body) => combination.Bodies.Count(b => b.StateIndex >= 0) > 1 ? $" of {names.Vehicle(body)}" : "";

    private static string Place(LoadPlace place) => place switch
    {
        LoadPlace.Front => "at the front",
        LoadPlace.Centre => "at the middle of the load",
        LoadPlace.Rear => "at the rear",
        _ => throw new ArgumentOutOfRangeException(nameof(place), place, "Unknown place."),
    };

    /// <summary>How the lifts must stand for it, where that is not how they stand.</summary>
    private string With(in Configuration then, Configuration? present)
    {
        if (combination.Liftable == 0 || (present is { } now && now.Raised == then.Raised && now.Unloaded == then.Unloaded)) return "";
        return $", and drive with {LiftSentences.Positions(combination, names, then)}";
    }
}
