using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.RoadWear;

/// <summary>Which axles of a configuration a road feels as one.</summary>
public static class WearGroups
{
    /// <summary>Greatest distance of neighbours in a group: 96 in, AASHTO Guide 1993 (from memory).</summary>
    public const double Reach = 2.44;

    /// <summary>
    /// Finds the groups, front to rear. An axle with relieved bellows stands for itself; of more than three neighbours the first three are a
    /// group, since the equation knows no more.
    /// </summary>
    /// <param name="combination">What rolls.</param>
    /// <param name="configuration">What its axles do.</param>
    /// <param name="kilograms">Load of every axle; less than zero counts as zero.</param>
    /// <param name="groups">Gets them; as long as there are axles is long enough.</param>
    /// <returns>How many.</returns>
    public static int Find(Combination combination, Configuration configuration, ReadOnlySpan<double> kilograms, Span<WearGroup> groups)
    {
        var count = 0;
        AxlePart? ahead = null;
        foreach (var part in combination.Axles)
        {
            if (configuration[part.Index] == AxleState.Raised) continue;
            var own = new WearGroup(1u << part.Index, 1, Math.Max(kilograms[part.Index], 0));
            var loaded = configuration[part.Index] == AxleState.Loaded;
            if (loaded && ahead is not null && Joins(ahead, part) && groups[count - 1].Count < AxleEquivalence.MostAxles)
                groups[count - 1] = Joined(groups[count - 1], own);
            else
                groups[count++] = own;
            ahead = loaded ? part : null;
        }

        return count;
    }

    /// <summary>Standard axles of one pass, by the full AASHTO equation over groups and by the plain fourth power over axles.</summary>
    public static WearOfPass Pass(Combination combination, Configuration configuration, ReadOnlySpan<double> kilograms, Pavement pavement)
    {
        Span<WearGroup> groups = stackalloc WearGroup[Configuration.MostAxles];
        double aashto = 0, fourth = 0;
        foreach (var group in groups[..Find(combination, configuration, kilograms, groups)]) aashto += group.Aashto(pavement);
        foreach (var part in combination.Axles)
            if (configuration[part.Index] != AxleState.Raised)
                fourth += AxleEquivalence.FourthPower(kilograms[part.Index]);
        return new WearOfPass(aashto, fourth);
    }

    private static bool Joins(AxlePart ahead, AxlePart part) =>
        ahead.Body == part.Body && part.Axle.Position.Metres - ahead.Axle.Position.Metres <= Reach;

    private static WearGroup Joined(WearGroup a, WearGroup b) => new(a.Axles | b.Axles, a.Count + b.Count, a.Kilograms + b.Kilograms);
}
