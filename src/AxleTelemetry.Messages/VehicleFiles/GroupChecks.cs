using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Messages.VehicleFiles;

/// <summary>Groups: which axle is where, and that each group always has something to stand on.</summary>
internal static class GroupChecks
{
    private const double WidestInGroup = 3.0;

    public static void Run(Draft draft)
    {
        FrontByKind(draft);
        Unique.Check(draft.Problems, draft.Groups.Select(g => ((string?)(g.Node.Text("name") ?? g.Place), g.Node.PathOf("name"))), "group");
        Membership(draft);
        foreach (var group in draft.Groups)
        {
            Adjacent(draft, group);
            StaysDown(draft, group);
            if (draft.Kind?.IsPowered() == true) Roles(draft, group);
        }

        if (draft.Front is { Axles.IsEmpty: false } front && draft.Rear is { Axles.IsEmpty: false } rear && front.Axles.Max() > rear.Axles.Min())
            draft.Problems.Add(ProblemKind.GroupOrder, front.Node.PathOf("axles"), Names(draft, front), "Every axle of the front group is ahead of the rear group.");
    }

    private static void FrontByKind(Draft draft)
    {
        if (draft.Kind is not { } kind) return;
        var path = draft.Root.PathOf("front");
        if (kind.RestsOnCoupling() && draft.Root.Has("front"))
            draft.Problems.Add(ProblemKind.NotForKind, path, "a front group", $"A {Words.Write(kind)} rests on its coupling in front: put all axles in 'rear'.");
        else if (!kind.RestsOnCoupling() && !draft.Root.Has("front"))
            draft.Problems.Add(ProblemKind.NeededForKind, path, "", $"A {Words.Write(kind)} needs a front group: \"front\": {{ \"axles\": [\"...\"] }}.");
    }

    private static void Membership(Draft draft)
    {
        // Where a group itself is in doubt, an axle left out is only its consequence.
        var whole = !draft.Problems.AnyErrorUnder(draft.Root.PathOf("front")) && !draft.Problems.AnyErrorUnder(draft.Root.PathOf("rear"));
        foreach (var axle in draft.Axles)
        {
            var count = draft.Groups.Sum(g => g.Axles.Count(i => i == axle.Index));
            if (count == 0 && whole)
                draft.Problems.Add(ProblemKind.InNoGroup, axle.Node.Path, $"'{axle.Called}' in no group", "Every axle belongs to 'front' or 'rear': add its key there.");
            else if (count > 1)
                draft.Problems.Add(ProblemKind.InTwoGroups, axle.Node.Path, $"'{axle.Called}' {count} times in the groups", "Every axle belongs to one group, once.");
        }
    }

    private static void Adjacent(Draft draft, DraftGroup group)
    {
        for (var n = 1; n < group.Axles.Length; n++)
        {
            var (ahead, axle) = (draft.Axles[group.Axles[n - 1]], draft.Axles[group.Axles[n]]);
            if (axle.Index != ahead.Index + 1)
                draft.Problems.Add(ProblemKind.GroupNotAdjacent, JsonPath.Of(group.Node.PathOf("axles"), n), $"'{axle.Called}' after '{ahead.Called}'",
                    "A group names neighbouring axles, front to rear, with none of another group between.");
            else if (axle.X is { } x && x - ahead.X is { } apart && apart > WidestInGroup)
                draft.Problems.Add(ProblemKind.UnusualSpacing, axle.Node.PathOf("x_m"), x,
                    $"{Problems.Say(apart)} m behind '{ahead.Called}' of the same group is far. Check both positions.");
        }
    }

    private static void StaysDown(Draft draft, DraftGroup group)
    {
        if (group.Axles.IsEmpty) return;
        var sharing = group.Sharing(draft);
        if (sharing.All(i => draft.Axles[i].HasLift))
            draft.Problems.Add(ProblemKind.NoAxleStaysDown, group.Node.PathOf("axles"), Names(draft, group),
                "At least one axle of a group has no lift and no regulated_kg: something must carry whatever the others do.");
        if (sharing.Length > 1 && !group.Node.Has("shares_by"))
            draft.Problems.Add(ProblemKind.Missing, group.Node.PathOf("shares_by"), "",
                $"Say what makes the axles share: one of {string.Join(", ", Words.Of<ShareLaw>())}.");
    }

    private static void Roles(Draft draft, DraftGroup group)
    {
        foreach (var i in group.Axles)
            if (draft.Axles[i].Role is { } role && (role == AxleRole.Steer) != (group.Place == "front"))
                draft.Problems.Add(ProblemKind.RoleAtWrongPlace, group.Node.PathOf("axles"), $"'{draft.Axles[i].Called}' ({Words.Write(role)})",
                    "Steer axles, and they alone, make the front group of a vehicle that pulls.");
    }

    private static string Names(Draft draft, DraftGroup group) => string.Join(", ", group.Axles.Select(i => draft.Axles[i].Called));
}
