namespace AxleTelemetry.Simulator.Chance;

/// <summary>
/// A small generator (SplitMix64) whose whole state is one number: the same seed gives the same fleet on every machine
/// and every runtime, which the library's own generator does not promise.
/// </summary>
public sealed class SeededRandom(ulong seed)
{
    private ulong _state = seed;

    /// <summary>The next 64 bits.</summary>
    public ulong Next()
    {
        var z = _state += 0x9E3779B97F4A7C15;
        z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9;
        z = (z ^ (z >> 27)) * 0x94D049BB133111EB;
        return z ^ (z >> 31);
    }

    /// <summary>Uniform in [0, 1).</summary>
    public double Unit() => (Next() >> 11) * (1.0 / (1ul << 53));

    /// <summary>Uniform between two bounds.</summary>
    public double Between(double least, double most) => least + (most - least) * Unit();

    /// <summary>A whole number from <paramref name="least"/> to <paramref name="most"/>, both included.</summary>
    public int Whole(int least, int most) => least + (int)(Unit() * (most - least + 1));

    /// <summary>True with a probability.</summary>
    public bool Chance(double probability) => Unit() < probability;

    /// <summary>One of several, each as likely.</summary>
    public T Pick<T>(params ReadOnlySpan<T> items) => items[Whole(0, items.Length - 1)];

    /// <summary>Normal with mean zero.</summary>
    public double Normal(double sd) => sd * Math.Sqrt(-2 * Math.Log(1 - Unit())) * Math.Cos(2 * Math.PI * Unit());

    /// <summary>A generator of its own for one vehicle or one trip, so that drawing more for one shifts nothing for the next.</summary>
    public SeededRandom Fork() => new(Next());
}
