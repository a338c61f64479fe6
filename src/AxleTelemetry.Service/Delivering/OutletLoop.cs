using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Service.Serving;
using AxleTelemetry.Storage.Delivering;
using Polly;
using Polly.CircuitBreaker;
using Polly.Retry;

namespace AxleTelemetry.Service.Delivering;

/// <summary>
/// Sends what waits for one recipient, one message after the other, and writes down what came of each. A message is marked as delivered after the other side
/// has taken it: a crash between the two sends it once more, under the same id. One that is away holds up nobody else.
/// </summary>
internal sealed class OutletLoop : IDisposable
{
    private const int AtOnce = 500, MostTrouble = 300;
    private static readonly TimeSpan Look = TimeSpan.FromSeconds(5), Broken = TimeSpan.FromSeconds(30);

    private readonly OutletOrder _order;
    private readonly IOutlet _outlet;
    private readonly DeliveryFile _file;
    private readonly TimeProvider _clock;
    private readonly Bell _bell;
    private readonly ResiliencePipeline<Handing> _patience;
    private volatile string? _trouble;
    private volatile bool _leaves;
    private bool _isBegun;

    public OutletLoop(OutletOrder order, IOutlet outlet, DeliveryFile file, TimeProvider clock)
    {
        (_order, _outlet, _file, _clock, _bell) = (order, outlet, file, clock, new Bell(clock));
        var away = new PredicateBuilder<Handing>().HandleResult(h => h is Handing.Away);
        _patience = new ResiliencePipelineBuilder<Handing> { TimeProvider = clock }
            .AddRetry(new RetryStrategyOptions<Handing>
            {
                // For what is over in a moment; what lasts is waited for with the message written down.
                ShouldHandle = new PredicateBuilder<Handing>().HandleResult(h => h is Handing.Away { After: null }),
                MaxRetryAttempts = 2, BackoffType = DelayBackoffType.Exponential, UseJitter = true, Delay = TimeSpan.FromMilliseconds(300),
            })
            .AddCircuitBreaker(new CircuitBreakerStrategyOptions<Handing> { ShouldHandle = away, FailureRatio = 0.9, MinimumThroughput = 5, SamplingDuration = TimeSpan.FromMinutes(1), BreakDuration = Broken })
            .Build();
    }

    /// <summary>Whom it sends to.</summary>
    public OutletOrder Order => _order;

    /// <summary>Why nothing gets through at present; <c>null</c> where it does.</summary>
    public string? Trouble => _trouble;

    /// <summary>Something may be there to be sent.</summary>
    public void Wake() => _bell.Ring();

    /// <summary>Ends once what came of the message at hand is written down: cut off, it would have to be sent again.</summary>
    public void Leave()
    {
        _leaves = true;
        Wake();
    }

    /// <summary>Sends until it is told to stop, or to leave.</summary>
    public async Task RunAsync(CancellationToken cancel)
    {
        // Also where it is replaced before it sends anything: the one that follows does not know from where it was moved.
        TryToBegin();
        try
        {
            while (!_leaves) await _bell.RestAsync(await TriedAsync(cancel), cancel);
        }
        catch (OperationCanceledException) when (cancel.IsCancellationRequested)
        {
            // Told to stop: what waits is sent after the next start.
        }
    }

    /// <inheritdoc/>
    public void Dispose() => _outlet.Dispose();

    private void TryToBegin()
    {
        try
        {
            Begin(_clock.Now());
        }
        catch (IOException unwritten)
        {
            // Each step tries it again.
            _trouble = unwritten.Message;
        }
    }

    private async Task<TimeSpan> TriedAsync(CancellationToken cancel)
    {
        try
        {
            return await StepAsync(cancel);
        }
        catch (IOException unwritten)
        {
            // Neither lost nor sent twice to who keeps ids: it is as it was written last.
            _trouble = unwritten.Message;
            return Look;
        }
    }

    /// <summary>One message, and how long to rest after it.</summary>
    private async Task<TimeSpan> StepAsync(CancellationToken cancel)
    {
        var now = _clock.Now();
        Begin(now);
        switch (_file.InOneStep(book => Next(book, now)))
        {
            case PaceStep.Nothing:
                return _file.InOneStep(book => book.NextDue(_order.Recipient)) is { } due ? Until(due, now) : Look;
            case PaceStep.Wait wait:
                return Until(wait.Until, now);
            case PaceStep.Send send:
                return await SendAsync(send.Parcel, cancel);
            case var other:
                throw new InvalidOperationException($"A step that nobody handles: {other}.");
        }
    }

    // Not before the sender that this one replaces has ended: what came of the message it had in hand may be a pause too.
    private void Begin(Moment now)
    {
        if (_isBegun) return;
        _file.InOneStep(book =>
        {
            if (_order.IsMoved) book.Move(_order.Recipient, now);
            // The settings may have been changed between two runs too.
            if (_order.Channel is { } channel) book.GoBy(_order.Recipient, channel);
        });
        _isBegun = true;
    }

    private PaceStep Next(DeliveryBook book, Moment now)
    {
        var pace = new Pace(_order.MostPerHour);
        if (book.HeldUntil(_order.Recipient) is { } held && held > now) return new PaceStep.Wait(held);
        while (true)
        {
            var due = book.Due(_order.Recipient, now, _order.MostPerHour is null ? 1 : AtOnce);
            var step = pace.Next(due, _order.MostPerHour is null ? [] : book.DeliveredAfter(_order.Recipient, Pace.Since(now)));
            if (step is not PaceStep.Gather gather) return step;
            book.Gather(_order.Recipient, gather.Parts, MessageId.OfDigest(_order.Recipient, [.. gather.Parts.Select(p => p.Message)]), now);
        }
    }

    private async Task<TimeSpan> SendAsync(Parcel parcel, CancellationToken cancel)
    {
        var message = new Outgoing(parcel, parcel.Kind == ParcelKind.Digest ? _file.InOneStep(book => book.PartsOf(parcel)) : []);
        Handing? last = null;
        try
        {
            return Done(parcel, await _patience.ExecuteAsync(async token => last = await _outlet.SendAsync(message, token), cancel));
        }
        catch (BrokenCircuitException broken)
        {
            // It was tried, and that it failed opened the circuit: the attempt counts, or nothing would ever be given up.
            if (last is not null) Done(parcel, last);
            return broken.RetryAfter is { } left && left > TimeSpan.Zero ? left : Broken;
        }
        catch (InvalidDataException unreadable)
        {
            return Done(parcel, new Handing.Refused(unreadable.Message));
        }
        catch (Exception unforeseen) when (unforeseen is not (OperationCanceledException or IOException or OutOfMemoryException))
        {
            // A way out that fails as it should not must neither end this loop, unseen, nor lose the message.
            return Done(parcel, new Handing.Away($"It cannot be sent: {unforeseen.Message}", null));
        }
    }

    private TimeSpan Done(Parcel parcel, Handing handing)
    {
        var now = _clock.Now();
        switch (handing)
        {
            case Handing.Taken:
                _file.InOneStep(book => book.Delivered(parcel, now));
                _trouble = null;
                break;
            case Handing.Refused refused:
                _trouble = Short(refused.Reason);
                _file.InOneStep(book => book.GiveUp(parcel, now, Short(refused.Reason)));
                break;
            case Handing.Away away:
                _trouble = Short(away.Reason);
                _file.InOneStep(book => Again(book, parcel, away, now));
                break;
            default:
                throw new InvalidOperationException($"An outcome of sending that nobody handles: {handing}.");
        }

        _order.Ended?.Invoke();
        return TimeSpan.Zero;
    }

    private void Again(DeliveryBook book, Parcel parcel, Handing.Away away, Moment now)
    {
        // Who asks for a pause is sent nothing else meanwhile either.
        if (away.After is { } asked) book.Hold(parcel.Recipient, new Moment(now.UnixMilliseconds + (long)RetryTimes.Asked(asked).TotalMilliseconds));
        var tried = TimeSpan.FromSeconds(now.SecondsSince(book.TriedSince(parcel)));
        if (tried >= _order.GiveUpAfter)
        {
            book.GiveUp(parcel, now, FormattableString.Invariant($"Tried for {tried.TotalMinutes:0} min. {Short(away.Reason)}"));
            return;
        }

        var pause = RetryTimes.After(parcel.Attempts + 1, Random.Shared.NextDouble(), away.After);
        book.Failed(parcel, new Moment(now.UnixMilliseconds + (long)pause.TotalMilliseconds), Short(away.Reason));
    }

    // What is sent again by the command of another process is noticed at the next look.
    private static TimeSpan Until(Moment at, Moment now)
    {
        var left = TimeSpan.FromSeconds(Math.Max(0.01, at.SecondsSince(now)));
        return left < Look ? left : Look;
    }

    private static string Short(string text)
    {
        var line = text.ReplaceLineEndings(" ");
        return line.Length <= MostTrouble ? line : line[..MostTrouble] + "...";
    }
}

/// <summary>How a recipient is sent to.</summary>
/// <param name="Recipient">Who.</param>
/// <param name="MostPerHour">Messages in any hour beyond which they are gathered; <c>null</c> for no limit.</param>
/// <param name="GiveUpAfter">How long one is tried again.</param>
internal sealed record OutletOrder(string Recipient, int? MostPerHour, TimeSpan GiveUpAfter)
{
    /// <summary>By what way it goes, as it is entered into the alerts; <c>null</c> where nothing is.</summary>
    public string? Channel { get; init; }

    /// <summary>True where the recipient was reached elsewhere before, or was none: no pause of then holds.</summary>
    public bool IsMoved { get; init; }

    /// <summary>Told when something came of a message; <c>null</c> where nobody asks.</summary>
    public Action? Ended { get; init; }
}
