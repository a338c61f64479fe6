using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Messages.VehicleFiles;

/// <summary>Axles among each other and with the kind of vehicle.</summary>
internal static class AxleChecks
{
    private const double ClosestAxles = 0.9;

    // Nearer than this two supports are one: what the statics give then is noise, or no number at all.
    private const double SamePlace = 0.3;

    public static void Run(Draft draft)
    {
        Unique.Check(draft.Problems, draft.Axles.Select(a => (a.Key, a.Node.PathOf("key"))), "axle");
        Positions(draft);
        if (draft.Kind is { } kind)
        {
            Origin(draft, kind);
            Roles(draft, kind);
        }

        foreach (var axle in draft.Axles)
        {
            Lift(draft.Problems, axle.Node);
            Masses(draft.Problems, axle);
            Forces(draft.Problems, axle);
        }
    }

    private static void Positions(Draft draft)
    {
        DraftAxle? ahead = null;
        foreach (var axle in draft.Axles)
        {
            if (axle.X is not { } x) continue;
            if (ahead?.X is { } before)
            {
                if (x < before + SamePlace)
                    draft.Problems.Add(ProblemKind.AxleOrder, axle.Node.PathOf("x_m"), x,
                        $"Axles are listed front to rear and x grows rearward: more than {Problems.Say(SamePlace)} m behind '{ahead.Called}', which is at {Problems.Say(before)} m.");
                else if (x - before < ClosestAxles)
                    draft.Problems.Add(ProblemKind.UnusualSpacing, axle.Node.PathOf("x_m"), x,
                        $"Only {Problems.Say(x - before)} m behind '{ahead.Called}': the wheels would touch. Check both positions.");
            }

            ahead = axle;
        }
    }

    private static void Origin(Draft draft, VehicleKind kind)
    {
        if (draft.Axles.IsEmpty || draft.Axles[0].X is not { } first) return;
        var path = draft.Axles[0].Node.PathOf("x_m");
        if (kind.IsPowered() && first != 0)
            draft.Problems.Add(ProblemKind.WrongOrigin, path, first, "Positions of a vehicle that pulls count from its first axle, so the first axle is at 0.");
        else if (!kind.IsPowered() && first < SamePlace)
            draft.Problems.Add(ProblemKind.WrongOrigin, path, first,
                $"Positions of a trailer count from its kingpin or drawbar eye, so its axles are at {Problems.Say(SamePlace)} m or more.");
    }

    private static void Roles(Draft draft, VehicleKind kind)
    {
        foreach (var axle in draft.Axles)
        {
            if (axle.Role is not { } role || (role == AxleRole.Trailer) != kind.IsPowered()) continue;
            draft.Problems.Add(ProblemKind.RoleNotForKind, axle.Node.PathOf("role"), $"'{Words.Write(role)}'",
                kind.IsPowered() ? "A vehicle that pulls has steer, drive, tag and pusher axles." : "Every axle of a trailer has the role 'trailer'.");
        }

        if (!kind.IsPowered()) return;
        foreach (var needed in new[] { AxleRole.Steer, AxleRole.Drive })
            if (draft.Axles.All(a => a.Role is { } role && role != needed) && !draft.Axles.IsEmpty)
                draft.Problems.Add(ProblemKind.RoleMissing, draft.Root.PathOf("axles"), "", $"A {Words.Write(kind)} needs an axle with the role '{Words.Write(needed)}'.");
        Places(draft);
    }

    private static void Places(Draft draft)
    {
        var driven = draft.Axles.Where(a => a.Role == AxleRole.Drive).Select(a => a.Index).ToList();
        if (driven.Count == 0) return;
        foreach (var axle in draft.Axles)
        {
            var right = axle.Role switch
            {
                AxleRole.Steer when axle.Index > driven[0] => "A steer axle is ahead of the drive axle. A steered axle behind it is a tag axle with \"steering\": \"steered\".",
                AxleRole.Pusher when axle.Index > driven[0] => "A pusher axle is ahead of the drive axle; behind it, it is a tag axle.",
                AxleRole.Tag when axle.Index < driven[^1] => "A tag axle is behind the drive axle; ahead of it, it is a pusher axle.",
                _ => null,
            };
            if (right is not null) draft.Problems.Add(ProblemKind.RoleAtWrongPlace, axle.Node.PathOf("role"), $"'{Words.Write(axle.Role!.Value)}'", right);
        }
    }

    private static void Lift(Problems problems, Node axle)
    {
        if (axle.Part("lift") is not { } lift) return;
        var automatic = new Lift();
        double raise = lift.Number("raise_below") ?? automatic.RaiseBelow, lower = lift.Number("lower_above") ?? automatic.LowerAbove;
        if (raise >= lower)
            problems.Add(ProblemKind.WrongOrder, lift.PathOf("raise_below"), raise,
                $"It has to be below lower_above ({Problems.Say(lower)}), or the axle would go up and down without end.");
    }

    private static void Masses(Problems problems, DraftAxle axle)
    {
        if (axle.Rating is not { } rating) return;
        var registered = axle.Node.Number("registered_kg");
        if (registered > rating)
            problems.Add(ProblemKind.RegisteredAboveRating, axle.Node.PathOf("registered_kg"), registered.Value,
                $"The registered mass is usually at most the rating of the axle, {Problems.Say(rating)} kg.");
        if (axle.Node.Part("tyres") is { } tyres && tyres.Number("capacity_kg") is { } capacity && capacity < (registered ?? rating))
            problems.Add(ProblemKind.TyresBelowRating, tyres.PathOf("capacity_kg"), capacity,
                $"All tyres of the axle together usually carry at least {Problems.Say(registered ?? rating)} kg.");
    }

    private static void Forces(Problems problems, DraftAxle axle)
    {
        if (axle.IsRegulated && axle.Node.Has("ceiling_kg"))
            problems.Add(ProblemKind.RegulatedAndCeiling, axle.Node.PathOf("ceiling_kg"), "both regulated_kg and ceiling_kg",
                "An axle keeps a force of its own (regulated_kg) or shares up to a ceiling (ceiling_kg): write one of them.");
        foreach (var name in new[] { "regulated_kg", "ceiling_kg" })
            if (axle.Node.Number(name) is { } force && axle.Unsprung is { } unsprung && force + unsprung > axle.Rating)
                problems.Add(ProblemKind.ForceAboveRating, axle.Node.PathOf(name), force,
                    $"With its own {Problems.Say(unsprung)} kg the axle would carry more than its rating of {Problems.Say(axle.Rating.Value)} kg.");
    }
}
