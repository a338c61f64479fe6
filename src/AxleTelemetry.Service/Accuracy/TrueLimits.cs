using System.Collections.Immutable;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Service.Configuring;

namespace AxleTelemetry.Service.Accuracy;

/// <summary>The limits of a combination in each of its configurations.</summary>
internal sealed class TrueLimits(Combination combination, ConfiguredFleet fleet)
{
    private readonly Dictionary<Configuration, ImmutableArray<Margin>> _margins = [];

    /// <summary>Limits of law, papers and ratings in a configuration; not the rules of this house.</summary>
    public ImmutableArray<Margin> In(Configuration configuration)
    {
        if (_margins.TryGetValue(configuration, out var known)) return known;
        known = [.. MarginTable.For(combination, configuration, fleet.Limits, fleet.Trip).Where(m => m.Standing != MarginStanding.HouseRule)];
        _margins.Add(configuration, known);
        return known;
    }

    /// <summary>A limit in a configuration; <c>null</c> where it does not exist there.</summary>
    public Margin? Find(MarginKey key, Configuration configuration) => In(configuration).FirstOrDefault(m => m.Key == key);

    /// <summary>The least room to any limit, as a fraction of it; negative where one is passed.</summary>
    public double Room(Configuration configuration, ReadOnlySpan<double> rows)
    {
        var least = double.PositiveInfinity;
        foreach (var margin in In(configuration)) least = Math.Min(least, -TrueMoment.Excess(margin, rows) / TrueMoment.Scale(margin, rows));
        return least;
    }

    /// <summary>The distance to the nearest limit on either side, as a fraction of it.</summary>
    public double Nearest(Configuration configuration, ReadOnlySpan<double> rows)
    {
        var least = double.PositiveInfinity;
        foreach (var margin in In(configuration)) least = Math.Min(least, Math.Abs(TrueMoment.Excess(margin, rows) / TrueMoment.Scale(margin, rows)));
        return least;
    }
}
