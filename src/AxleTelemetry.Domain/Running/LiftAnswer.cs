using AxleTelemetry.Domain.Loads;

namespace AxleTelemetry.Domain.Running;

/// <summary>Whether a lift pays.</summary>
/// <param name="Currency">Code of ISO 4217.</param>
/// <param name="SavedPerYear">Fuel and tyres saved by lifting, less what its own mass costs to roll.</param>
/// <param name="FixedPerYear">Price over life with interest, upkeep, payload lost where that is valued.</param>
/// <param name="NetPerYear">The first less the second: it pays where positive.</param>
/// <param name="Probability">That it pays, 0 to 1.</param>
/// <param name="BreakEven">From how many kilometres a year.</param>
public sealed record LiftAnswer(
    string Currency, Estimated SavedPerYear, Estimated FixedPerYear, Estimated NetPerYear, double Probability, BreakEven BreakEven);

/// <summary>From how many kilometres a year, driven in the same way, a lift pays.</summary>
public abstract record BreakEven
{
    private BreakEven() { }

    /// <summary>It pays from here.</summary>
    /// <param name="Kilometres">A year, by the best estimate.</param>
    /// <param name="Least">Below this it does not pay, 97.5 % sure.</param>
    /// <param name="Most">Above this it pays, 97.5 % sure; <c>null</c> where no distance makes that sure.</param>
    public sealed record From(double Kilometres, double Least, double? Most) : BreakEven;

    /// <summary>It costs more on every kilometre than it saves, by the best estimate.</summary>
    public sealed record Never : BreakEven;
}
