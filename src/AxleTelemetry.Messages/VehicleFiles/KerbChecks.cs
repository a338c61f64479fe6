using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Messages.VehicleFiles;

/// <summary>The kerb weighing: whole, possible, and in keeping with the shares.</summary>
internal static class KerbChecks
{
    // Weighing errors and suspension friction on an empty axle are of this size.
    private const double UnevenKilograms = 150, UnevenPart = 0.08;

    public static void Run(Draft draft)
    {
        if (draft.Root.Part("kerb") is not { } kerb) return;
        ByKind(draft, kerb);
        foreach (var key in kerb.KeysOf("axle_loads_kg")) draft.Refer(key, JsonPath.Of(kerb.PathOf("axle_loads_kg"), key));
        if (kerb.ByAxle("axle_loads_kg") is not { } loads) return;
        var raised = draft.Refer(kerb, "raised").ToHashSet();
        foreach (var axle in draft.Axles)
            if (axle.Key is { } key)
                AtAxle(draft, kerb, axle, raised.Contains(axle.Index), loads.TryGetValue(key, out var load) ? load : null);
        Raised(draft, kerb);
        if (draft.Axles.Any(a => a.Key is null || a.Unsprung is null)) return;
        Whole(draft, kerb);
        foreach (var group in draft.Groups) Uneven(draft, kerb, group, raised);
    }

    /// <summary>Mass of the empty vehicle without what was aboard, kg; <c>null</c> where a part of it is missing.</summary>
    public static double? Mass(Draft draft, Node kerb)
    {
        if (draft.Problems.AnyErrorUnder(kerb.Path) || kerb.ByAxle("axle_loads_kg") is not { } loads) return null;
        return loads.Values.Sum() + (kerb.Number("coupling_load_kg") ?? 0) - (kerb.Number("service_aboard_kg") ?? 0);
    }

    private static void ByKind(Draft draft, Node kerb)
    {
        if (draft.Kind is not { } kind) return;
        if (kind.RestsOnCoupling() && !kerb.Has("coupling_load_kg"))
            draft.Problems.Add(ProblemKind.NeededForKind, kerb.PathOf("coupling_load_kg"), "", $"A {Words.Write(kind)} rests on its coupling too: give the load there when it was weighed empty.");
        if (!kind.RestsOnCoupling() && kerb.Number("coupling_load_kg") is { } coupling and not 0)
            draft.Problems.Add(ProblemKind.NotForKind, kerb.PathOf("coupling_load_kg"), coupling, $"A {Words.Write(kind)} does not rest on a front coupling: leave this out.");
        if (!kind.IsPowered() && kerb.Number("service_aboard_kg") is { } aboard and not 0)
            draft.Problems.Add(ProblemKind.NotForKind, kerb.PathOf("service_aboard_kg"), aboard, "A trailer has no fuel and crew aboard: leave this out.");
    }

    private static void AtAxle(Draft draft, Node kerb, DraftAxle axle, bool raised, double? load)
    {
        var path = JsonPath.Of(kerb.PathOf("axle_loads_kg"), axle.Key!);
        if (draft.Problems.IsFaulty(path)) return;
        if (raised)
        {
            if (load > 0)
                draft.Problems.Add(ProblemKind.KerbLoadOnRaised, path, load.Value, "The axle was raised when weighed, so it carried 0: leave it out, or take it out of 'raised'.");
        }
        else if (load is null)
            draft.Problems.Add(ProblemKind.KerbLoadMissing, path, "", $"Give what '{axle.Key}' weighed empty, or name it under 'raised' if it was off the road.");
        else if (load <= axle.Unsprung)
            draft.Problems.Add(ProblemKind.KerbTooLight, path, load.Value,
                $"An axle on the road weighs more than its own {Problems.Say(axle.Unsprung.Value)} kg (unsprung_kg). Was it raised? Then name it under 'raised'.");
    }

    private static void Raised(Draft draft, Node kerb)
    {
        foreach (var (key, path) in kerb.Texts("raised"))
            if (draft.IndexOf(key) is var index and >= 0 && !draft.Axles[index].HasLift)
                draft.Problems.Add(ProblemKind.KerbRaisedWithoutLift, path, $"'{key}'", "That axle has no lift, so it was on the road: give its load, or describe its lift.");
    }

    private static void Whole(Draft draft, Node kerb)
    {
        var unsprung = draft.Axles.Sum(a => a.Unsprung!.Value);
        if (Mass(draft, kerb) is { } mass && mass <= unsprung)
            draft.Problems.Add(ProblemKind.KerbTooLight, kerb.PathOf("axle_loads_kg"), $"{Problems.Say(mass)} kg in all, without what was aboard",
                $"The empty vehicle weighs more than its axles alone, {Problems.Say(unsprung)} kg.");
    }

    private static void Uneven(Draft draft, Node kerb, DraftGroup group, HashSet<int> raised)
    {
        if (draft.Problems.AnyError) return;
        var loads = kerb.ByAxle("axle_loads_kg")!;
        var mode = ModeReading.Of(draft)[0];
        double Sprung(int i) => loads[draft.Axles[i].Key!] - draft.Axles[i].Unsprung!.Value;
        foreach (var i in group.Axles.Where(i => draft.Axles[i].IsRegulated && !raised.Contains(i)))
            Compare(draft, kerb, i, draft.Axles[i].Node.Number("regulated_kg")!.Value + draft.Axles[i].Unsprung!.Value);
        var sharing = group.Sharing(draft).Where(i => !raised.Contains(i)).ToList();
        double whole = sharing.Sum(i => Sprung(i) - mode.Offsets[i]), weights = sharing.Sum(i => mode.Weights[i]!.Value);
        foreach (var i in sharing)
            Compare(draft, kerb, i, whole * mode.Weights[i]!.Value / weights + mode.Offsets[i] + draft.Axles[i].Unsprung!.Value);
    }

    private static void Compare(Draft draft, Node kerb, int axle, double expected)
    {
        var key = draft.Axles[axle].Key!;
        var load = kerb.ByAxle("axle_loads_kg")![key];
        if (Math.Abs(load - expected) > Math.Max(UnevenKilograms, UnevenPart * expected))
            draft.Problems.Add(ProblemKind.KerbUneven, JsonPath.Of(kerb.PathOf("axle_loads_kg"), key), load,
                $"By the declared shares it would be about {Problems.Say(Math.Round(expected))} kg. Check the shares, or weigh again.");
    }
}
