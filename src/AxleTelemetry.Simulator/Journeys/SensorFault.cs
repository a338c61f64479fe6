namespace AxleTelemetry.Simulator.Journeys;

/// <summary>What a pressure sensor does instead of measuring.</summary>
public abstract record SensorFault
{
    private SensorFault() { }

    /// <summary>It measures.</summary>
    public sealed record None : SensorFault;

    /// <summary>It shows one pressure for ever: a stated one, or the last before.</summary>
    public sealed record Stuck(double? Kilopascals) : SensorFault;

    /// <summary>It departs more and more.</summary>
    public sealed record Drift(double KilopascalsPerMinute) : SensorFault;

    /// <summary>It departs by a constant.</summary>
    public sealed record Step(double Kilopascals) : SensorFault;

    /// <summary>It says nothing.</summary>
    public sealed record Dead : SensorFault;

    /// <summary>It feels one side of a cambered road: a fraction of the load more (or less) than half.</summary>
    public sealed record Crown(double Fraction) : SensorFault;
}
