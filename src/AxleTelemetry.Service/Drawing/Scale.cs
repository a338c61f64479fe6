namespace AxleTelemetry.Service.Drawing;

/// <summary>One axis of a picture: from values to points on the page, with round ticks.</summary>
internal sealed record Scale
{
    private Scale(double least, double most, double step) => (Least, Most, Step) = (least, most, step);

    public double Least { get; }

    public double Most { get; }

    public double Step { get; }

    public required double Start { get; init; }

    public required double End { get; init; }

    public IEnumerable<double> Ticks
    {
        get
        {
            var (first, last) = ((int)Math.Ceiling(Least / Step - 1e-9), (int)Math.Floor(Most / Step + 1e-9));
            for (var i = first; i <= last; i++) yield return i * Step;
        }
    }

    /// <summary>Widens the range of <paramref name="values"/> to multiples of 1, 2 or 5 times a power of ten, about <paramref name="ticks"/> of them.</summary>
    public static Scale Around(IReadOnlyCollection<double> values, int ticks, double start, double end)
    {
        double low = values.Min(), high = values.Max(), raw = Math.Max(high - low, 1e-6) / ticks;
        var power = Math.Pow(10, Math.Floor(Math.Log10(raw)));
        var step = power * (raw / power) switch { <= 1 => 1, <= 2 => 2, <= 5 => 5, _ => 10 };
        return new(Math.Floor(low / step) * step, Math.Ceiling(high / step) * step, step) { Start = start, End = end };
    }

    /// <summary>Exactly the range, with round ticks within it.</summary>
    public static Scale Exactly(double least, double most, int ticks, (double Start, double End) on)
    {
        var round = Around([least, most], ticks, on.Start, on.End);
        return new(least, most, round.Step) { Start = on.Start, End = on.End };
    }

    public double At(double value) => Start + (value - Least) / (Most - Least) * (End - Start);
}
