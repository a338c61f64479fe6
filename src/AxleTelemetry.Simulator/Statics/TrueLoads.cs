using System.Collections.Immutable;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Simulator.Statics;

/// <summary>What every axle and coupling of a combination really carries, kg.</summary>
public sealed record TrueLoads
{
    /// <summary>The configuration it holds for.</summary>
    public required Configuration Configuration { get; init; }

    /// <summary>Force of the road on each axle.</summary>
    public required ImmutableArray<double> Axles { get; init; }

    /// <summary>What each axle's suspension carries: its load less its own unsprung mass; zero for a raised axle.</summary>
    public required ImmutableArray<double> Sprung { get; init; }

    /// <summary>What each axle's suspension would carry by its share alone: above its force where a valve holds it.</summary>
    public required ImmutableArray<double> ByShare { get; init; }

    /// <summary>Vertical load at each coupling, the first between bodies 0 and 1.</summary>
    public required ImmutableArray<double> Couplings { get; init; }

    /// <summary>Horizontal force at each coupling, positive where the unit behind pulls back.</summary>
    public required ImmutableArray<double> Pulls { get; init; }

    /// <summary>Axles, then couplings: the rows of a load vector of the combination.</summary>
    public double Row(int row) => row < Axles.Length ? Axles[row] : Couplings[row - Axles.Length];
}

/// <summary>What came of solving.</summary>
public abstract record StaticsResult
{
    private StaticsResult() { }

    /// <summary>There is an equilibrium.</summary>
    public sealed record Stands(TrueLoads Loads) : StaticsResult;

    /// <summary>There is none: a support without an axle that could carry, or one that would have to pull.</summary>
    public sealed record Falls(string Reason) : StaticsResult;
}
