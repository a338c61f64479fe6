using System.Collections.Immutable;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Planning;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Web.Sight;

/// <summary>One vehicle as it stands, with everything that a page of its own shows.</summary>
/// <param name="At">When it was looked at.</param>
/// <param name="Glance">The vehicle at a glance.</param>
/// <param name="View">What its lane knows; <c>null</c> for a trailer, and before it was heard.</param>
public sealed record VehiclePicture(Moment At, VehicleGlance Glance, LaneView? View)
{
    /// <summary>What the figures are worth, in words.</summary>
    public string Worth { get; init; } = "";

    /// <summary>By which limits, in a sentence.</summary>
    public string Limits { get; init; } = "";

    /// <summary>Its open alerts, most urgent first.</summary>
    public ImmutableArray<AlertLine> Alerts { get; init; } = [];

    /// <summary>False where its description was taken away since.</summary>
    public bool IsDescribed { get; init; } = true;

    /// <summary>Whom to phone; <c>null</c> where nobody has entered a number.</summary>
    public Telephone? Telephone { get; init; }

    /// <summary>What is aboard; empty where no figures are given.</summary>
    public ImmutableArray<PayloadAboard> Payloads { get; init; } = [];

    /// <summary>The load in every position of the lifts; <c>null</c> where no figures are given.</summary>
    public LoadPlan? Plan { get; init; }

    /// <summary>What each configuration of the plan costs, in its order; empty where no figures are given.</summary>
    public ImmutableArray<DrivenCost> Costs { get; init; } = [];

    /// <summary>
    /// The position that costs least in money where it is another than the one called right, and by how much less, of what is permitted and stays so; <c>null</c>
    /// where both are one. What is called right goes by rolling alone, money by tread as well.
    /// </summary>
    public (ConfigurationPlan Position, double Less)? CheaperThanRight
    {
        get
        {
            if (Plan is not { Right: { } right } plan) return null;
            var open = plan.Configurations.Zip(Costs).Where(p => p.First.IsPermitted && p.First.SetDown.IsEmpty).ToArray();
            if (open.Length == 0) return null;
            var (position, cost) = open.MinBy(p => p.Second.Money.Mean);
            return position == right ? null : (position, open.First(p => p.First == right).Second.Money.Mean - cost.Money.Mean);
        }
    }

    /// <summary>At which speed that is reckoned, m/s.</summary>
    public double CostSpeed { get; init; }

    /// <summary>What to do while a limit is passed, in a sentence; <c>null</c> where none is, or nothing would end it.</summary>
    public string? Remedy { get; init; }

    /// <summary>In which money, ISO 4217.</summary>
    public string Currency { get; init; } = "";

    /// <summary>For each axle the greatest sources of its uncertainty; empty where no figures are given.</summary>
    public ImmutableArray<ImmutableArray<UncertaintyPart>> AxleSources { get; init; } = [];

    /// <summary>The same for all that stands on the road.</summary>
    public ImmutableArray<UncertaintyPart> GrossSources { get; init; } = [];

    /// <summary>What is open, in the order of the catalogue.</summary>
    public ImmutableArray<OpenNow> Open { get; init; } = [];

    /// <summary>Why it is followed without a trailer that it says hangs on it; <c>null</c> where it is not.</summary>
    public string? NotCoupled { get; init; }

    /// <summary>Why its lane stopped by a fault of the service; <c>null</c> where it runs.</summary>
    public string? StoppedBy { get; init; }

    /// <summary>From when on its history is being corrected; <c>null</c> where it is not.</summary>
    public Moment? CorrectedFrom { get; init; }
}

/// <summary>Payload of one body.</summary>
/// <param name="Body">The body.</param>
/// <param name="Load">Mass, kg.</param>
/// <param name="CentreMetres">Its centre along the body; <c>null</c> where there is next to nothing.</param>
/// <param name="CentreHalfWidth">Half of the 95 % interval of the centre, m.</param>
public sealed record PayloadAboard(BodyPart Body, Estimated Load, double? CentreMetres, double CentreHalfWidth);

/// <summary>An open episode.</summary>
/// <param name="Since">When it began.</param>
/// <param name="Sentence">What holds.</param>
public readonly record struct OpenNow(Moment Since, string Sentence);

/// <summary>A source of uncertainty with its part of the variance.</summary>
/// <param name="Words">What it is, so that it is plain what to do next.</param>
/// <param name="Part">Between 0 and 1.</param>
public readonly record struct UncertaintyPart(string Words, double Part);
