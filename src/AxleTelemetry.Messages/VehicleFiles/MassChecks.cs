using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Messages.VehicleFiles;

/// <summary>Registered masses, load space, service load and fixtures against the vehicle.</summary>
internal static class MassChecks
{
    // Rounded papers and a weighing that is a little off are no reason to warn.
    private const double PayloadMargin = 1.02;
    private const double LongestSpace = 20, FarAhead = 4, FarBehind = 8;

    public static void Run(Draft draft)
    {
        Unique.Check(draft.Problems, draft.Root.Parts("fixtures").Select(f => (f.Text("name"), f.PathOf("name"))), "fixture");
        if (draft.Kind is { } kind) ByKind(draft, kind);
        if (draft.Root.Part("load_space") is { } space) Space(draft, space);
        if (draft.Root.Part("registered") is { } registered) Registered(draft, registered);
    }

    private static void ByKind(Draft draft, VehicleKind kind)
    {
        var space = draft.Root.PathOf("load_space");
        if (kind == VehicleKind.Tractor && draft.Root.Has("load_space"))
            draft.Problems.Add(ProblemKind.NotForKind, space, "a load space", "A tractor carries no payload of its own: leave this out.");
        // A dolly is a drawbar trailer that carries only the trailer behind it.
        var mayLack = kind == VehicleKind.Tractor || kind == VehicleKind.DrawbarTrailer && draft.Root.Has("rear_coupling");
        if (!mayLack && !draft.Root.Has("load_space"))
            draft.Problems.Add(ProblemKind.NeededForKind, space, "", $"A {Words.Write(kind)} needs its load space: {{ \"front_x_m\": ..., \"rear_x_m\": ..., \"permitted_kg\": ... }}.");
        if (!kind.IsPowered() && draft.Root.Has("service"))
            draft.Problems.Add(ProblemKind.NotForKind, draft.Root.PathOf("service"), "a service load", "Only a vehicle that pulls has fuel and crew: leave this out.");
        if (!kind.IsPowered() && draft.Root.Part("registered") is { } registered && registered.Has("combination_kg"))
            draft.Problems.Add(ProblemKind.NotForKind, registered.PathOf("combination_kg"), "a gross combination mass", "Only a vehicle that pulls has one: leave this out.");
    }

    private static void Space(Draft draft, Node space)
    {
        if (space.Number("front_x_m") is not { } front || space.Number("rear_x_m") is not { } rear) return;
        if (front >= rear)
        {
            draft.Problems.Add(ProblemKind.WrongOrder, space.PathOf("front_x_m"), front, $"It has to be below rear_x_m, {Problems.Say(rear)}: x grows rearward.");
            return;
        }

        if (space.Number("centre_x_m") is { } centre && (centre < front || centre > rear))
            draft.Problems.Add(ProblemKind.Outside, space.PathOf("centre_x_m"), centre, $"The load's centre is inside the load space, {Problems.Say(front)} to {Problems.Say(rear)} m.");
        var last = draft.Axles.Max(a => a.X) ?? rear;
        if (rear - front > LongestSpace || front < -FarAhead || rear > last + FarBehind)
            draft.Problems.Add(ProblemKind.UnusualLoadSpace, space.Path, $"{Problems.Say(front)} to {Problems.Say(rear)} m",
                $"That is long, or far off the axles (the last is at {Problems.Say(last)} m). Positions count from the first axle, kingpin or drawbar eye.");
    }

    private static void Registered(Draft draft, Node registered)
    {
        if (registered.Number("gross_kg") is not { } gross) return;
        if (registered.Number("combination_kg") is { } combination && combination < gross)
            draft.Problems.Add(ProblemKind.WrongOrder, registered.PathOf("combination_kg"), combination, $"It is at least gross_kg, {Problems.Say(gross)}.");
        if (registered.Number("rear_group_kg") is { } group && group > gross)
            draft.Problems.Add(ProblemKind.WrongOrder, registered.PathOf("rear_group_kg"), group, $"It is at most gross_kg, {Problems.Say(gross)}.");
        if (draft.Root.Part("kerb") is { } kerb && KerbChecks.Mass(draft, kerb) is { } mass) Kerb(draft, registered, gross, mass);
        Ratings(draft, registered, gross);
    }

    private static void Kerb(Draft draft, Node registered, double gross, double mass)
    {
        if (gross < mass)
        {
            draft.Problems.Add(ProblemKind.GrossBelowKerb, registered.PathOf("gross_kg"), gross, $"The empty vehicle alone weighs {Problems.Say(mass)} kg by its kerb weighing.");
            return;
        }

        if (draft.Root.Part("load_space") is not { } space || space.Number("permitted_kg") is not { } permitted) return;
        if (mass + permitted > PayloadMargin * gross)
            draft.Problems.Add(ProblemKind.PayloadAboveGross, space.PathOf("permitted_kg"), permitted,
                $"With the empty {Problems.Say(mass)} kg it passes gross_kg: usually at most {Problems.Say(gross - mass)} kg.");
    }

    private static void Ratings(Draft draft, Node registered, double gross)
    {
        if (draft.Kind is not { } kind || draft.Axles.Any(a => a.Rating is null)) return;
        double? front = kind.RestsOnCoupling() ? draft.Root.Part("front_coupling")?.Number("most_kg") : 0;
        var carried = draft.Axles.Sum(a => a.Rating!.Value) + front;
        if (gross > carried)
            draft.Problems.Add(ProblemKind.GrossAboveRatings, registered.PathOf("gross_kg"), gross, $"All axles and the coupling together are rated for {Problems.Say(carried.Value)} kg.");
    }
}
