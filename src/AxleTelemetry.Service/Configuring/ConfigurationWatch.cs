using System.Collections.Immutable;
using AxleTelemetry.Service.Inputs;

namespace AxleTelemetry.Service.Configuring;

/// <summary>
/// Notices that files of the configuration changed, when asked. Nothing is read while files still change, so that a half-written
/// one is not taken; now and then everything is read again, as a file may change without its length and time. For one thread.
/// </summary>
internal sealed class ConfigurationWatch(string settings, ServiceConfiguration current, TimeProvider clock)
{
    /// <summary>How long files must have stayed as they are before they are read.</summary>
    public static readonly TimeSpan Settle = TimeSpan.FromSeconds(2);

    /// <summary>How often everything is read although nothing seems to have changed.</summary>
    public static readonly TimeSpan Again = TimeSpan.FromMinutes(5);

    private ImmutableArray<string> _watched = current.Watched;
    private ImmutableArray<FileStamp> _seen = [];
    private ImmutableArray<FileStamp> _read = [];
    private long _seenAt = clock.GetTimestamp();
    private long _readAt = clock.GetTimestamp();

    /// <summary>What is in force.</summary>
    public ServiceConfiguration Current { get; private set; } = current;

    /// <summary>What is wrong with the files as they are now, for health; empty where they are what is in force.</summary>
    public ImmutableArray<InputProblem> Errors { get; private set; } = [];

    /// <summary>Looks at the files. A change is told once, and so is a set of errors.</summary>
    public WatchResult Poll()
    {
        var stamps = FileStamps.Of(_watched);
        if (!stamps.SequenceEqual(_seen)) (_seen, _seenAt) = (stamps, clock.GetTimestamp());
        var due = !stamps.SequenceEqual(_read) || clock.GetElapsedTime(_readAt) >= Again;
        if (!due || clock.GetElapsedTime(_seenAt) < Settle) return new WatchResult.Unchanged();
        (_read, _readAt) = (stamps, clock.GetTimestamp());
        switch (ServiceReading.Read(settings))
        {
            case ServiceResult.Loaded loaded:
                return Take(loaded.Configuration);
            case ServiceResult.Refused refused:
                // With the settings themselves in error, what they name is not known: the files of the last good ones are looked at still.
                _watched = [.. refused.Watched.Union(Current.Watched)];
                if (refused.Errors.SequenceEqual(Errors)) return new WatchResult.Unchanged();
                Errors = refused.Errors;
                return new WatchResult.Refused(Errors);
            default:
                throw new InvalidOperationException("An outcome of reading the configuration that nobody handles.");
        }
    }

    private WatchResult Take(ServiceConfiguration next)
    {
        Errors = [];
        _watched = next.Watched;
        if (next.SameAs(Current)) return new WatchResult.Unchanged();
        var changed = new WatchResult.Changed(next, ConfigurationChange.Between(Current.Fleets, next.Fleets), RestartCheck.Run(Current, next)) { Before = Current };
        Current = next;
        return changed;
    }
}

/// <summary>What came of looking.</summary>
internal abstract record WatchResult
{
    private WatchResult() { }

    /// <summary>Nothing to tell; also while files still change.</summary>
    public sealed record Unchanged : WatchResult;

    /// <summary>A further configuration, whole and in force from the next input on.</summary>
    /// <param name="Next">The configuration.</param>
    /// <param name="Change">What is different for the lanes.</param>
    /// <param name="AfterRestart">Properties of the settings that changed and hold only after a restart; those of delivery apart.</param>
    public sealed record Changed(ServiceConfiguration Next, ConfigurationChange Change, ImmutableArray<string> AfterRestart) : WatchResult
    {
        /// <summary>What was read before.</summary>
        public required ServiceConfiguration Before { get; init; }
    }

    /// <summary>Every error; what was in force stays in force.</summary>
    public sealed record Refused(ImmutableArray<InputProblem> Errors) : WatchResult;
}
