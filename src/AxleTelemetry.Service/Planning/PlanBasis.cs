using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Running;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Messages.Running;

namespace AxleTelemetry.Service.Planning;

/// <summary>What a plan starts from.</summary>
/// <param name="Setup">The vehicles with their limits.</param>
/// <param name="Limits">By which limits, in a sentence.</param>
/// <param name="Live">What is aboard as inferred; <c>null</c> where nothing is.</param>
internal sealed record PlanBasis(LaneSetup Setup, string Limits, LivePayload? Live)
{
    /// <summary>What running cost is reckoned with; the shipped ones where no fleet has any.</summary>
    public Assumptions Assumptions { get; init; } = AssumptionsFile.Shipped;
}

/// <summary>What is aboard as inferred: copies, that nobody changes any more.</summary>
/// <param name="Payload">The estimate.</param>
/// <param name="Known">What is known of the errors.</param>
/// <param name="Worth">What it is worth, in words.</param>
/// <param name="Present">How the axles stand.</param>
internal sealed record LivePayload(PayloadEstimate Payload, KnownErrors Known, string Worth, Configuration Present);
