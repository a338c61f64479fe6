using System.Collections.Immutable;
using Polly;
using Polly.CircuitBreaker;
using Polly.Retry;

namespace AxleTelemetry.Storage.Series;

/// <summary>
/// Delivers points however long it takes: what is not there is waited for, with growing pauses of uneven length, or for as long as it asks, an hour at most; what the database refuses is halved until the
/// refused points stand alone, which are counted with their reason and left out, so that they hold up nobody.
/// </summary>
public sealed class SeriesDelivery
{
    private const int MostReasons = 20;
    private static readonly TimeSpan FirstPause = TimeSpan.FromMilliseconds(500), LongestPause = TimeSpan.FromMinutes(1), LongestAsked = TimeSpan.FromHours(1);

    private readonly Func<ImmutableArray<SeriesPoint>, CancellationToken, Task<SendOutcome>> _send;
    private readonly ResiliencePipeline<SendOutcome> _patience;
    private readonly Lock _gate = new();
    private readonly Dictionary<string, long> _refused = new(StringComparer.Ordinal);
    private long _written;
    private volatile string? _trouble;

    /// <summary>Begins with nothing counted.</summary>
    /// <param name="send">Sends once.</param>
    /// <param name="clock">Tells how long pauses are.</param>
    public SeriesDelivery(Func<ImmutableArray<SeriesPoint>, CancellationToken, Task<SendOutcome>> send, TimeProvider clock)
    {
        _send = send;
        var away = new PredicateBuilder<SendOutcome>().HandleResult(r => r is SendOutcome.Unavailable);
        _patience = new ResiliencePipelineBuilder<SendOutcome> { TimeProvider = clock }
            .AddRetry(new RetryStrategyOptions<SendOutcome>
            {
                ShouldHandle = new PredicateBuilder<SendOutcome>().HandleResult(r => r is SendOutcome.Unavailable).Handle<BrokenCircuitException>(),
                MaxRetryAttempts = int.MaxValue,
                BackoffType = DelayBackoffType.Exponential,
                UseJitter = true,
                Delay = FirstPause,
                MaxDelay = LongestPause,
                DelayGenerator = pause => ValueTask.FromResult(pause.Outcome.Result is SendOutcome.Unavailable { After: { } after } ? after < LongestAsked ? after : LongestAsked : (TimeSpan?)null),
                OnRetry = failed =>
                {
                    if (failed.Outcome.Result is SendOutcome.Unavailable down) _trouble = down.Reason;
                    return default;
                },
            })
            .AddCircuitBreaker(new CircuitBreakerStrategyOptions<SendOutcome>
            {
                ShouldHandle = away,
                FailureRatio = 0.9,
                MinimumThroughput = 5,
                SamplingDuration = TimeSpan.FromMinutes(1),
                BreakDuration = TimeSpan.FromSeconds(20),
            })
            .Build();
    }

    /// <summary>Points that are there.</summary>
    public long Written => Interlocked.Read(ref _written);

    /// <summary>Why nothing gets through at present; <c>null</c> where it does.</summary>
    public string? Trouble => _trouble;

    /// <summary>Points left out, by what the database said of them; beyond some reasons all others stand under 'other'.</summary>
    public ImmutableSortedDictionary<string, long> Refused
    {
        get
        {
            lock (_gate) return _refused.ToImmutableSortedDictionary(StringComparer.Ordinal);
        }
    }

    /// <summary>Returns when each point is there or was refused; only then.</summary>
    public async Task DeliverAsync(ImmutableArray<SeriesPoint> points, CancellationToken cancel)
    {
        if (points.IsEmpty) return;
        var outcome = await _patience.ExecuteAsync(async token => await _send(points, token).ConfigureAwait(false), cancel).ConfigureAwait(false);
        _trouble = null;
        switch (outcome)
        {
            case SendOutcome.Taken:
                Interlocked.Add(ref _written, points.Length);
                break;
            case SendOutcome.Refused refused when points.Length == 1:
                Count(refused.Reason);
                break;
            case SendOutcome.TooLarge when points.Length == 1:
                Count("a point by itself is too large");
                break;
            case SendOutcome.Refused or SendOutcome.TooLarge:
                await DeliverAsync(points[..(points.Length / 2)], cancel).ConfigureAwait(false);
                await DeliverAsync(points[(points.Length / 2)..], cancel).ConfigureAwait(false);
                break;
            default:
                throw new InvalidOperationException($"An outcome of sending that nobody handles: {outcome}.");
        }
    }

    private void Count(string reason)
    {
        lock (_gate)
        {
            var key = _refused.ContainsKey(reason) || _refused.Count < MostReasons ? reason : "other";
            _refused[key] = _refused.GetValueOrDefault(key) + 1;
        }
    }
}
