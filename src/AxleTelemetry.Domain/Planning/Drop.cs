using System.Collections.Immutable;

namespace AxleTelemetry.Domain.Planning;

/// <summary>What is taken off at one stop.</summary>
/// <param name="Kilograms">Its mass.</param>
/// <param name="Metres">Where its centre stands along the body.</param>
public readonly record struct Drop(double Kilograms, double Metres);

/// <summary>What is aboard of one body.</summary>
/// <param name="Kilograms">Mass.</param>
/// <param name="Moment">Its moment about the body's origin, kg m.</param>
public readonly record struct Aboard(double Kilograms, double Moment)
{
    // A kilogram is what a list of items may be off by.
    private const double Nothing = 1;

    /// <summary>Centre, m; <c>null</c> for an empty body.</summary>
    public double? Centre => Kilograms > Nothing ? Moment / Kilograms : null;

    /// <summary>A load of so much with its centre at a place.</summary>
    public static Aboard At(double kilograms, double metres) => new(kilograms, kilograms * metres);

    /// <summary>All the items of a trip together.</summary>
    public static Aboard Of(IEnumerable<Drop> items) => items.Aggregate(default(Aboard), (sum, d) => new(sum.Kilograms + d.Kilograms, sum.Moment + d.Kilograms * d.Metres));

    /// <summary>After each drop, in their order; what is aboard before the first is not among them.</summary>
    public ImmutableArray<Aboard> After(IEnumerable<Drop> drops)
    {
        var (left, stages) = (this, ImmutableArray.CreateBuilder<Aboard>());
        foreach (var drop in drops) stages.Add(left = left.Without(drop));
        return stages.ToImmutable();
    }

    /// <summary>True where what is left could stand in a load space: not less than nothing, its centre within.</summary>
    public bool CouldBe(double front, double rear) =>
        Kilograms >= -Nothing && Moment >= Kilograms * front - Nothing * Math.Abs(front) - Nothing && Moment <= Kilograms * rear + Nothing * Math.Abs(rear) + Nothing;

    private Aboard Without(Drop drop)
    {
        var left = new Aboard(Kilograms - drop.Kilograms, Moment - drop.Kilograms * drop.Metres);
        return Math.Abs(left.Kilograms) <= Nothing ? default : left;
    }
}
