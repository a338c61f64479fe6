using System.Collections.Immutable;

namespace AxleTelemetry.Domain.Limits;

/// <summary>
/// Finds the groups that a table knows among the loaded axles of one support. All of them together where the table has a row
/// for that number and spacing; otherwise every longest run of neighbours it has a row for (three axles 1.5 m apart are two
/// tandems that share the middle axle); what is left are single axles.
/// </summary>
internal static class LegalGroups
{
    public static ImmutableArray<ImmutableArray<int>> Find(RoadBody body, ImmutableArray<int> loaded, LimitSet set)
    {
        var found = ImmutableArray.CreateBuilder<ImmutableArray<int>>();
        for (var size = loaded.Length; size >= 2; size--)
            for (var first = 0; first + size <= loaded.Length; first++)
            {
                var run = loaded.Slice(first, size);
                if (!found.Any(g => run.All(g.Contains)) && HasRow(body, run, set)) found.Add(run);
            }

        return found.ToImmutable();
    }

    /// <summary>
    /// The rules for a run. Where its spacings differ, each needs a row, and the rules returned are those of the spacing
    /// whose best permit is lowest: the stricter reading.
    /// </summary>
    public static IReadOnlyList<MassRule> Rules(RoadBody body, ImmutableArray<int> run, LimitSet set) =>
        body.Spacings(run).Select(d => RulesAt(body, run, d, set)).MinBy(Best) ?? [];

    private static bool HasRow(RoadBody body, ImmutableArray<int> run, LimitSet set) =>
        body.Spacings(run).All(d => RulesAt(body, run, d, set).Any(r => r.Effect is RuleEffect.Permit));

    private static double Best(List<MassRule> rules) =>
        rules.Select(r => r.Effect is RuleEffect.Permit permit ? permit.Most.Kilograms : 0).DefaultIfEmpty(0).Max();

    private static List<MassRule> RulesAt(RoadBody body, ImmutableArray<int> run, Quantities.Length spacing, LimitSet set) =>
        [.. set.Rules.OfType<GroupRule>().Where(r => body.IsClass(r.Vehicle) && r.Axles == run.Length
            && r.Spacing.Contains(spacing) && body.Meets(r.Fitted, run))];
}
