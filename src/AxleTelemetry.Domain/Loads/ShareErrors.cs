namespace AxleTelemetry.Domain.Loads;

/// <summary>
/// Where the errors of shares act: a declared share by itself; a measured one through the errors of the sensor that
/// measures it.
/// </summary>
internal sealed class ShareErrors
{
    private readonly ErrorBudget _budget;

    // Axle whose share a column is of, -1 for all others; and the columns that are of shares.
    private readonly int[] _axleOf;
    private readonly int[] _columns;

    public ShareErrors(ErrorBudget budget)
    {
        _budget = budget;
        _axleOf = [.. budget.Errors.Select(e => e.Kind == ConsideredKind.Share ? e.Element : -1)];
        _columns = [.. Enumerable.Range(0, _axleOf.Length).Where(e => _axleOf[e] >= 0)];
    }

    /// <summary>Puts the slope of one vehicle error where its remaining spread is: on itself, and for a measured share on its sensor.</summary>
    public void Spread(KnownErrors known, int error, double slope, Span<double> effect)
    {
        effect[error] += slope * known.Remaining[error];
        if (_axleOf[error] >= 0) SpreadMeasured(known, _axleOf[error], slope, effect);
    }

    /// <summary>True where any share is measured.</summary>
    public bool AnyMeasured(KnownErrors known)
    {
        foreach (var column in _columns)
            if (known.SensorOf(_axleOf[column]) >= 0)
                return true;
        return false;
    }

    /// <summary>Puts the slopes of all measured shares on their sensors.</summary>
    public void SpreadMeasured(KnownErrors known, ReadOnlySpan<double> slopes, Span<double> effect)
    {
        foreach (var column in _columns) SpreadMeasured(known, _axleOf[column], slopes[column], effect);
    }

    private void SpreadMeasured(KnownErrors known, int axle, double slope, Span<double> effect)
    {
        if (known.SensorOf(axle) < 0) return;
        var first = _budget.SensorColumn((int)known.SensorOf(axle));
        var link = known.Link(axle);
        for (var k = 0; k < link.Length; k++) effect[first + k] -= slope * link[k];
    }
}
