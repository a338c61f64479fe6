using System.Collections.Immutable;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Limits;

/// <summary>
/// Every limit of a combination in one configuration. Decisions, each the stricter reading, since practice differs between
/// countries:
/// <list type="bullet">
/// <item>How many axles a vehicle has is counted by those on the road in the configuration; a raised axle does not count.</item>
/// <item>What forms a group, and its class, is decided by the loaded axles; one with relieved bellows is taken as not there.
/// A group with one loaded axle left is a single axle.</item>
/// <item>Where the table has no row for so few axles, its lowest row for more axles stands in.</item>
/// <item>Where law and papers limit the same thing, one margin remains: the stricter, with its source.</item>
/// <item>A permit takes the place of the limits of law that it names, also of a registered mass, never of a rating.</item>
/// </list>
/// </summary>
public static class MarginTable
{
    /// <summary>The margins in the order of their keys, each key once.</summary>
    public static ImmutableArray<Margin> For(Combination combination, Configuration configuration, LimitSet set, LimitContext context) =>
        For(combination, configuration, LimitStack.Of(set), context);

    /// <summary>The same of tables one over another.</summary>
    public static ImmutableArray<Margin> For(Combination combination, Configuration configuration, LimitStack stack, LimitContext context, PermitsInForce? permits = null) =>
        Sheet(combination, configuration, stack, context, permits ?? PermitsInForce.None).Margins();

    /// <summary>What neither table nor papers limit though a table could, in words; empty as a rule.</summary>
    public static ImmutableArray<string> Unlimited(Combination combination, Configuration configuration, LimitSet set, LimitContext context) =>
        Unlimited(combination, configuration, LimitStack.Of(set), context);

    /// <summary>The same of tables one over another.</summary>
    public static ImmutableArray<string> Unlimited(Combination combination, Configuration configuration, LimitStack stack, LimitContext context, PermitsInForce? permits = null) =>
        Sheet(combination, configuration, stack, context, permits ?? PermitsInForce.None).Unlimited();

    private static MarginSheet Sheet(Combination combination, Configuration configuration, LimitStack stack, LimitContext context, PermitsInForce permits)
    {
        var sheet = new MarginSheet(combination);
        ImmutableArray<RoadBody> bodies = [.. combination.Bodies.Select(b => new RoadBody(b, configuration))];
        new LawMargins(sheet, bodies, stack, context).AddAll();
        new PaperMargins(sheet, bodies).AddAll();
        new PermitMargins(sheet, configuration).Add(permits);
        return sheet;
    }
}
