using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Messages.VehicleFiles;

/// <summary>Couplings: there by kind, and possible.</summary>
internal static class CouplingChecks
{
    public static void Run(Draft draft)
    {
        if (draft.Kind is { } kind) ByKind(draft, kind);
        if (draft.Root.Part("front_coupling") is { } front) Loads(draft.Problems, front);
        if (draft.Root.Part("rear_coupling") is not { } rear) return;
        Loads(draft.Problems, rear);
        Travel(draft.Problems, rear);
    }

    private static void ByKind(Draft draft, VehicleKind kind)
    {
        var front = draft.Root.PathOf("front_coupling");
        if (kind.IsPowered() && draft.Root.Has("front_coupling"))
            draft.Problems.Add(ProblemKind.NotForKind, front, "a front coupling", $"A {Words.Write(kind)} goes first: leave this out.");
        if (!kind.IsPowered() && !draft.Root.Has("front_coupling"))
            draft.Problems.Add(ProblemKind.NeededForKind, front, "", "A trailer needs its front coupling: \"front_coupling\": { \"height_m\": 1.1 }. Its place is x = 0.");
        if (kind == VehicleKind.Tractor && !draft.Root.Has("rear_coupling"))
            draft.Problems.Add(ProblemKind.NeededForKind, draft.Root.PathOf("rear_coupling"), "", "A tractor needs its fifth wheel: \"rear_coupling\": { \"x_m\": 3.1 }.");
    }

    private static void Loads(Problems problems, Node coupling)
    {
        if (coupling.Number("least_kg") is { } least && coupling.Number("most_kg") is { } most && least >= most)
            problems.Add(ProblemKind.WrongOrder, coupling.PathOf("least_kg"), least, $"It has to be below most_kg, {Problems.Say(most)}.");
    }

    private static void Travel(Problems problems, Node coupling)
    {
        if (coupling.Has("travel_from_m") != coupling.Has("travel_to_m"))
            problems.Add(ProblemKind.TravelIncomplete, coupling.Path, "one end of the travel", "A coupling that slides needs both travel_from_m and travel_to_m; a fixed one neither.");
        if (coupling.Number("travel_from_m") is not { } from || coupling.Number("travel_to_m") is not { } to) return;
        if (from >= to)
            problems.Add(ProblemKind.WrongOrder, coupling.PathOf("travel_from_m"), from, $"It has to be below travel_to_m, {Problems.Say(to)}: x grows rearward.");
        else if (coupling.Number("x_m") is { } x && (x < from || x > to))
            problems.Add(ProblemKind.Outside, coupling.PathOf("x_m"), x, $"The coupling slides from {Problems.Say(from)} to {Problems.Say(to)} m, so it is between them.");
    }
}
