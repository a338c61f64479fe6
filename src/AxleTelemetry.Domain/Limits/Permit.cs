using System.Collections.Immutable;
using AxleTelemetry.Domain.Places;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Limits;

/// <summary>
/// What an authority allows certain vehicles beyond the general limits. It takes the place of the limits it names and of no others, in its countries, on
/// its days, while its conditions are met. Immutable.
/// </summary>
public sealed record Permit
{
    /// <summary>The most permits that may concern one combination.</summary>
    public const int Most = 64;

    /// <summary>Of those, the most with a speed that may hold in one country on one day.</summary>
    public const int MostWithSpeed = 4;

    /// <summary>Identity within a fleet: 1 to 64 of A-Z a-z 0-9 . _ -</summary>
    public required string Id { get; init; }

    /// <summary>Who granted it, for people.</summary>
    public required string Authority { get; init; }

    /// <summary>Ids of the vehicles that must all be in the combination.</summary>
    public required ImmutableArray<string> Vehicles { get; init; }

    /// <summary>Countries in which it holds.</summary>
    public required ImmutableArray<Country> Countries { get; init; }

    /// <summary>First day (UTC) on which it holds.</summary>
    public required DateOnly From { get; init; }

    /// <summary>Last day (UTC) on which it holds.</summary>
    public required DateOnly Until { get; init; }

    /// <summary>Greatest speed under it, m/s; <c>null</c>: none is named.</summary>
    public double? MostSpeed { get; init; }

    /// <summary>Axles that must bear load on the road.</summary>
    public ImmutableArray<AxleName> Lowered { get; init; } = [];

    /// <summary>What else it asks, in words: shown, as no vehicle reports whether it is done.</summary>
    public ImmutableArray<string> Obligations { get; init; } = [];

    /// <summary>The limits it names.</summary>
    public required ImmutableArray<PermittedMass> Masses { get; init; }

    /// <summary>True where it concerns these vehicles.</summary>
    public bool IsFor(Combination combination) => Vehicles.All(id => combination.Vehicles.Any(v => v.Id == id));

    /// <summary>True on one of its days.</summary>
    public bool HoldsOn(DateOnly day) => day >= From && day <= Until;

    /// <summary>True in one of its countries on one of its days. Allocates nothing.</summary>
    public bool HoldsIn(Country country, DateOnly day)
    {
        if (!HoldsOn(day)) return false;
        foreach (var own in Countries)
            if (own == country)
                return true;
        return false;
    }

    /// <summary>True where both say the same, word for word.</summary>
    public bool IsSame(Permit other) => ReferenceEquals(this, other)
        || this with { Vehicles = [], Countries = [], Lowered = [], Obligations = [], Masses = [] } == other with { Vehicles = [], Countries = [], Lowered = [], Obligations = [], Masses = [] }
        && Vehicles.SequenceEqual(other.Vehicles) && Countries.SequenceEqual(other.Countries) && Lowered.SequenceEqual(other.Lowered)
        && Obligations.SequenceEqual(other.Obligations) && Masses.Length == other.Masses.Length && Masses.Zip(other.Masses).All(m => m.First.IsSame(m.Second));

    /// <summary>Where a limit of it comes from.</summary>
    internal LimitSource SourceOf(PermittedMass mass) => new($"Permit {Id} of {Authority}", mass.Clause, From, LimitStatus.Permit);
}

/// <summary>An axle by its vehicle and its key there.</summary>
/// <param name="Vehicle">Id of the vehicle.</param>
/// <param name="Axle">Key of the axle.</param>
public readonly record struct AxleName(string Vehicle, string Axle)
{
    /// <inheritdoc/>
    public override string ToString() => $"{Vehicle}/{Axle}";

    /// <summary>Which axle of a combination it is; <c>null</c> where it is not in it.</summary>
    internal int? IndexIn(Combination combination)
    {
        foreach (var axle in combination.Axles)
            if (axle.Axle.Key == Axle && combination.Vehicles[axle.Body].Id == Vehicle)
                return axle.Index;
        return null;
    }
}

/// <summary>One limit that a permit names, and the mass that it allows there.</summary>
public abstract record PermittedMass
{
    private PermittedMass() { }

    /// <summary>Greatest mass, kg.</summary>
    public required double Kilograms { get; init; }

    /// <summary>The place within the permit; may be empty.</summary>
    public string Clause { get; init; } = "";

    /// <summary>One axle, or neighbouring ones together: every limit of law for just these axles.</summary>
    public sealed record OfAxles(ImmutableArray<AxleName> Axles) : PermittedMass;

    /// <summary>The gross mass of one vehicle, as <see cref="MarginKind.Gross"/> counts it.</summary>
    public sealed record OfVehicle(string Vehicle) : PermittedMass;

    /// <summary>The gross mass of the combination, and a bridge formula's limit for all of its axles.</summary>
    public sealed record OfCombination : PermittedMass;

    internal bool IsSame(PermittedMass other) => (this, other) switch
    {
        (OfAxles one, OfAxles two) => one with { Axles = [] } == two with { Axles = [] } && one.Axles.SequenceEqual(two.Axles),
        _ => this == other,
    };
}
