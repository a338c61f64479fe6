using AxleTelemetry.Domain.Running;
using AxleTelemetry.Messages.Running;
using System.Collections.Immutable;
using AxleTelemetry.Domain.Calibration;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Service.Inputs;

/// <summary>Everything a command needs of its vehicles: described, coupled, calibrated, limited. Immutable.</summary>
internal sealed class VehicleInput
{
    /// <summary>Puts the parts together.</summary>
    public VehicleInput(Combination combination, ImmutableArray<CircuitFit> fits, LimitSet limits, LimitContext trip, ImmutableArray<Permit> permits)
    {
        Combination = combination;
        Fits = fits;
        Limits = limits;
        Trip = trip;
        Permits = new PermitsInForce(permits, []);
        var tables = LimitStack.Of(limits);
        Setup = new LaneSetup(combination, fits, c => MarginTable.For(combination, c, tables, trip, Permits)) { Terms = RunningTerms.By(AssumptionsFile.Shipped) };
    }

    /// <summary>The vehicles, coupled.</summary>
    public Combination Combination { get; }

    /// <summary>Calibration of each sensor, counted through the combination.</summary>
    public ImmutableArray<CircuitFit> Fits { get; }

    /// <summary>The table of limits.</summary>
    public LimitSet Limits { get; }

    /// <summary>What is known of the trip.</summary>
    public LimitContext Trip { get; }

    /// <summary>Permits that count.</summary>
    public PermitsInForce Permits { get; }

    /// <summary>By which limits, in a sentence.</summary>
    public string LimitsLine => Inputs.LimitsLine.Of(LimitStack.Of(Limits), Trip, Permits.InForce);

    /// <summary>Ready for inference and judging.</summary>
    public LaneSetup Setup { get; }

    /// <summary>What is odd but possible; a command prints it beside its answer.</summary>
    public ImmutableArray<InputProblem> Warnings { get; init; } = [];
}

/// <summary>What came of loading what a command was given.</summary>
internal abstract record InputResult
{
    private InputResult() { }

    /// <summary>All of it is whole.</summary>
    public sealed record Loaded(VehicleInput Input) : InputResult;

    /// <summary>It is not, and every reason why.</summary>
    public sealed record Refused(ImmutableArray<InputProblem> Errors) : InputResult;
}
