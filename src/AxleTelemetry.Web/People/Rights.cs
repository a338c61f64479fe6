using System.Collections.Immutable;
using System.Security.Claims;

namespace AxleTelemetry.Web.People;

/// <summary>Which role may do what: the only table of it.</summary>
public static class Rights
{
    private static readonly ImmutableDictionary<Right, ImmutableArray<string>> ByRight = ImmutableDictionary.CreateRange<Right, ImmutableArray<string>>(
    [
        new(Right.Look, Roles.All),
        new(Right.ReadRaw, [Roles.Controller, Roles.Maintenance, Roles.Compliance, Roles.Administrator]),
        new(Right.Act, [Roles.Controller, Roles.Administrator]),
        new(Right.Repair, [Roles.Maintenance, Roles.Administrator]),
        new(Right.SetUp, [Roles.Administrator]),
    ]);

    /// <summary>All rights, the widest first.</summary>
    public static ImmutableArray<Right> All { get; } = [.. Enum.GetValues<Right>()];

    /// <summary>The roles that have a right.</summary>
    public static ImmutableArray<string> RolesWith(Right right) => ByRight[right];

    /// <summary>True where somebody has it.</summary>
    public static bool Has(this ClaimsPrincipal who, Right right) => ByRight[right].Any(who.IsInRole);
}
