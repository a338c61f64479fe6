namespace AxleTelemetry.Domain.Planning;

/// <summary>A stretch of a load-distribution diagram on which the same limits bound the payload.</summary>
public abstract record DiagramStretch
{
    private DiagramStretch(double from, double to) => (From, To) = (from, to);

    /// <summary>Foremost place, m.</summary>
    public double From { get; init; }

    /// <summary>Rearmost place, m.</summary>
    public double To { get; init; }

    /// <summary>A payload is permitted here.</summary>
    public sealed record Open : DiagramStretch
    {
        internal Open(double from, double to, BoundLine most, BoundLine? least)
            : base(from, to) => (Most, Least) = (most, least);

        /// <summary>What bounds the payload above.</summary>
        public BoundLine Most { get; }

        /// <summary>What bounds it below; <c>null</c> where it may be empty.</summary>
        public BoundLine? Least { get; }
    }

    /// <summary>No payload is permitted here.</summary>
    public sealed record Shut : DiagramStretch
    {
        internal Shut(double from, double to, BoundLine passed, BoundLine? with)
            : base(from, to) => (Passed, With) = (passed, with);

        /// <summary>What is passed by too much payload: by any at all where <see cref="With"/> is <c>null</c>.</summary>
        public BoundLine Passed { get; }

        /// <summary>What is passed by less than that; <c>null</c> where there is none.</summary>
        public BoundLine? With { get; }
    }

    /// <summary>True where the same lines bound both.</summary>
    internal bool Continues(DiagramStretch other) => (this, other) switch
    {
        (Open a, Open b) => a.Most == b.Most && a.Least == b.Least,
        (Shut a, Shut b) => a.Passed == b.Passed && a.With == b.With,
        (Open or Shut, Open or Shut) => false,
        _ => throw new InvalidOperationException("A stretch that nobody handles."),
    };
}
