using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Domain.Telling;

/// <summary>
/// Where an alert stands, in the words of ISA-18.2 / IEC 62682. What suppresses an alert remembers the state behind it, which
/// goes on changing meanwhile.
/// </summary>
public abstract record AlertState
{
    private AlertState() { }

    /// <summary>The state without what suppresses it. A method, as a state that names itself as a property could not be written down.</summary>
    public abstract Shown Behind();

    /// <summary>True unless it has returned to normal and nothing is left to be done.</summary>
    public bool IsOpen => this is not Normal;

    /// <summary>The same suppression, if any, over another state.</summary>
    internal abstract AlertState Over(Shown behind);

    /// <summary>A state that is shown as it is.</summary>
    public abstract record Shown : AlertState
    {
        private protected Shown() { }

        /// <inheritdoc/>
        public sealed override Shown Behind() => this;

        internal sealed override AlertState Over(Shown behind) => behind;
    }

    /// <summary>It holds, and nobody has acknowledged it.</summary>
    public sealed record Unacknowledged : Shown;

    /// <summary>It holds, and somebody has taken notice.</summary>
    /// <param name="By">Who and when.</param>
    public sealed record Acknowledged(Act By) : Shown;

    /// <summary>It holds no more, and nobody had acknowledged it.</summary>
    /// <param name="At">When it was known to have returned.</param>
    public sealed record ReturnedUnacknowledged(Moment At) : Shown;

    /// <summary>
    /// It holds no more and is acknowledged, but it was surely over and nobody has stated what was done. A rule of this house:
    /// the standard has no such state.
    /// </summary>
    /// <param name="By">Who acknowledged it, and when.</param>
    /// <param name="At">When it was known to have returned.</param>
    public sealed record Unstated(Act By, Moment At) : Shown;

    /// <summary>Normal: nothing is left to be done.</summary>
    /// <param name="As">How it came to that.</param>
    /// <param name="At">When.</param>
    public sealed record Normal(ClosedAs As, Moment At) : Shown;

    /// <summary>An operator has put it aside for a time.</summary>
    /// <param name="By">Who and when.</param>
    /// <param name="Reason">Why.</param>
    /// <param name="Until">When it comes back by itself.</param>
    /// <param name="State">The state behind.</param>
    public sealed record Shelved(Act By, string Reason, Moment Until, Shown State) : AlertState
    {
        /// <inheritdoc/>
        public override Shown Behind() => State;

        internal override AlertState Over(Shown behind) => this with { State = behind };
    }

    /// <summary>It is listed and does not ring, by a rule of ours.</summary>
    /// <param name="Why">Which rule.</param>
    /// <param name="State">The state behind.</param>
    public sealed record SuppressedByDesign(Suppression Why, Shown State) : AlertState
    {
        /// <inheritdoc/>
        public override Shown Behind() => State;

        internal override AlertState Over(Shown behind) => behind is Normal ? behind : this with { State = behind };
    }

    /// <summary>An operator has taken it out of service until it is put back.</summary>
    /// <param name="By">Who and when.</param>
    /// <param name="Reason">Why.</param>
    /// <param name="State">The state behind.</param>
    public sealed record OutOfService(Act By, string Reason, Shown State) : AlertState
    {
        /// <inheritdoc/>
        public override Shown Behind() => State;

        internal override AlertState Over(Shown behind) => this with { State = behind };
    }
}

/// <summary>Who did something, and when.</summary>
/// <param name="Who">Name of the account.</param>
/// <param name="At">When.</param>
public sealed record Act(string Who, Moment At);

/// <summary>How an alert came to be normal.</summary>
public enum ClosedAs : byte
{
    /// <summary>It returned to normal and was acknowledged.</summary>
    Returned,

    /// <summary>It returned to normal and somebody stated what was done.</summary>
    Stated,

    /// <summary>A correction of the history took its episode away.</summary>
    Corrected,

    /// <summary>It was over before it became known, and nothing is owed.</summary>
    OverBeforeKnown,

    /// <summary>Too many were open on one vehicle; the oldest was given up.</summary>
    GivenUp,
}

/// <summary>Why an alert is suppressed by design.</summary>
public enum Suppression : byte
{
    /// <summary>What was told is old, as a vehicle sent its backlog: it may be over by the next line of it.</summary>
    MayBeOver,

    /// <summary>It was over before it became known.</summary>
    OverBeforeKnown,
}
