namespace AxleTelemetry.Messages.VehicleFiles;

/// <summary>Modes: each says how every sharing axle shares.</summary>
internal static class ModeChecks
{
    private const double OffsetTolerance = 0.5;

    public static void Run(Draft draft)
    {
        foreach (var axle in draft.Axles) AtAxle(draft, axle);
        var modes = draft.Root.Parts("modes");
        Unique.Check(draft.Problems, modes.Select(m => (m.Text("name"), m.PathOf("name"))), "mode");
        if (!modes.IsEmpty && modes[0].Text("name") is { } first && first != ModeReading.Normal)
            draft.Problems.Add(ProblemKind.NormalNotFirst, modes[0].PathOf("name"), $"'{first}'", $"The first mode is the one driven in, and its name is '{ModeReading.Normal}'.");
        foreach (var mode in modes) InMode(draft, mode);
        foreach (var reading in ModeReading.Of(draft)) OffsetsCancel(draft, reading);
    }

    private static void AtAxle(Draft draft, DraftAxle axle)
    {
        foreach (var name in new[] { "share", "offset_kg" })
        {
            if (!axle.Node.Has(name)) continue;
            if (axle.IsRegulated)
                draft.Problems.Add(ProblemKind.ShareOfRegulated, axle.Node.PathOf(name), name, "An axle with regulated_kg carries its own force and takes no share: leave this out.");
            else if (draft.Root.Has("modes"))
                draft.Problems.Add(ProblemKind.SharesTwice, axle.Node.PathOf(name), name, "This file has modes: shares and offsets stand there, not at the axle.");
        }
    }

    private static void InMode(Draft draft, Node mode)
    {
        foreach (var name in new[] { "shares", "offsets_kg" })
            foreach (var key in mode.KeysOf(name))
            {
                var path = JsonPath.Of(mode.PathOf(name), key);
                if (draft.Refer(key, path) is var index and >= 0 && draft.Axles[index].IsRegulated)
                    draft.Problems.Add(ProblemKind.ShareOfRegulated, path, $"'{key}'", "An axle with regulated_kg carries its own force and takes no share: leave it out.");
            }

        if (mode.ByAxle("shares") is not { } shares) return;
        foreach (var group in draft.Groups.Where(g => g.Sharing(draft).Length > 1))
            foreach (var key in group.Sharing(draft).Select(i => draft.Axles[i].Key).OfType<string>())
                if (!shares.ContainsKey(key) && !mode.KeysOf("shares").Contains(key))
                    draft.Problems.Add(ProblemKind.ShareMissing, JsonPath.Of(mode.PathOf("shares"), key), "", $"'{key}' shares the load of its group: give its share, any scale.");
    }

    private static void OffsetsCancel(Draft draft, ModeReading mode)
    {
        foreach (var group in draft.Groups)
        {
            var sum = group.Sharing(draft).Sum(i => mode.Offsets[i]);
            if (Math.Abs(sum) > OffsetTolerance)
                draft.Problems.Add(ProblemKind.OffsetsNotZero, mode.OffsetsPath, $"a sum of {Problems.Say(sum)} kg in the {group.Place} group",
                    "Offsets move load between the axles of a group, so they sum to 0 in each.");
        }
    }
}
