using System.Collections.Immutable;
using AxleTelemetry.Domain.Calibration;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Simulator.Statics;

namespace AxleTelemetry.Simulator.Journeys;

/// <summary>A journey as written: who drives, what is true, what happens.</summary>
public sealed record JourneyScript
{
    /// <summary>The vehicles as their owner believes.</summary>
    public required Combination Combination { get; init; }

    /// <summary>The vehicles in truth.</summary>
    public required TrueCombination Truth { get; init; }

    /// <summary>What each circuit really does, counted through the combination.</summary>
    public required ImmutableArray<SensorTruth> Sensors { get; init; }

    /// <summary>What the owner believes of each circuit.</summary>
    public required ImmutableArray<CircuitFit> Fits { get; init; }

    /// <summary>What decides which limits hold.</summary>
    public required LimitContext Trip { get; init; }

    /// <summary>What chance begins with.</summary>
    public required ulong Seed { get; init; }

    /// <summary>When it begins.</summary>
    public required Moment Start { get; init; }

    /// <summary>What happens, in order.</summary>
    public required ImmutableArray<JourneyStep> Steps { get; init; }
}

/// <summary>What came of reading a journey.</summary>
public abstract record JourneyResult
{
    private JourneyResult() { }

    /// <summary>It can be played.</summary>
    /// <param name="Script">The journey.</param>
    /// <param name="Findings">The lines after <c>findings</c>, as they stand.</param>
    public sealed record Accepted(JourneyScript Script, ImmutableArray<string> Findings) : JourneyResult;

    /// <summary>It cannot, and why: every problem with the number of its line.</summary>
    public sealed record Refused(ImmutableArray<ScriptProblem> Problems) : JourneyResult;
}

/// <summary>Something wrong in a line of a journey; line 0 is the journey as a whole.</summary>
public sealed record ScriptProblem(int Line, string Reason)
{
    /// <inheritdoc/>
    public override string ToString() => FormattableString.Invariant($"line {Line}: {Reason}");
}
