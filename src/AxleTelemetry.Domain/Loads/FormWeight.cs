namespace AxleTelemetry.Domain.Loads;

/// <summary>What is the same of a sum of loads whatever limit is taken off it.</summary>
/// <param name="Added">What known errors add to its mean, kg.</param>
/// <param name="Sd">Standard deviation, kg.</param>
internal readonly record struct FormWeight(double Added, double Sd)
{
    /// <summary>The sum less a limit, kg.</summary>
    public Estimated Less(LinearForm form, ReadOnlySpan<double> state, double limit) => new(LoadMap.Value(form.Level, state, limit) + Added, Sd);
}
