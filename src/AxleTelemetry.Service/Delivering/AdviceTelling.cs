using System.Text.Json;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Messages.Topics;
using AxleTelemetry.Service.Serving;
using AxleTelemetry.Service.Sharding;

namespace AxleTelemetry.Service.Delivering;

/// <summary>
/// Keeps the advice on the display of each vehicle: given when it holds, given again while it goes on, withdrawn by an empty message when it holds no more.
/// It expires by itself: whatever happens to us, nobody is shown it for longer than two minutes.
/// </summary>
internal sealed class AdviceTelling(ShardDesk desk, IPublisher broker, TimeProvider clock)
{
    /// <summary>How long a display may show advice that is not given again.</summary>
    public static readonly TimeSpan Expiry = TimeSpan.FromSeconds(120);

    private static readonly TimeSpan Look = TimeSpan.FromSeconds(2), Again = TimeSpan.FromSeconds(45);

    private readonly Dictionary<VehicleName, Given> _given = [];

    // Where advice may stand: what was sent and never answered, by a broker that was lost or because we stop, may have arrived.
    private readonly HashSet<VehicleName> _outside = [];
    private bool _isBegun;
    private int _asked;
    private volatile string? _trouble;

    /// <summary>Why advice does not get through at present; <c>null</c> where it does.</summary>
    public string? Trouble => _trouble;

    /// <summary>The topic of a vehicle's advice.</summary>
    public static string TopicOf(VehicleName unit) => $"{Topic.Root}{unit.Fleet}/{unit.Id}/advice";

    /// <summary>Somebody has subscribed, and a broker that retains nothing has nothing for him: what holds is given again.</summary>
    public void GiveAgain(string filter)
    {
        if (filter.EndsWith("/advice", StringComparison.Ordinal) || filter.EndsWith('#')) Interlocked.Exchange(ref _asked, 1);
    }

    /// <summary>Tells until it is told to stop, and then withdraws all of it.</summary>
    public async Task RunAsync(CancellationToken cancel)
    {
        using var timer = new PeriodicTimer(Look, clock);
        try
        {
            while (await timer.WaitForNextTickAsync(cancel)) await TriedAsync(cancel);
        }
        catch (OperationCanceledException) when (cancel.IsCancellationRequested)
        {
            using var brief = new CancellationTokenSource(Look);
            await WithdrawAllAsync(brief.Token);
        }
        catch (ShardNotRunningException)
        {
            // The shard says itself why it ended; what was given expires.
        }
    }

    private async Task TriedAsync(CancellationToken cancel)
    {
        try
        {
            await StepAsync(cancel);
        }
        catch (Exception failed) when (failed is not (OperationCanceledException or ShardNotRunningException or OutOfMemoryException))
        {
            // Said and tried again: else displays would be told nothing any more, unseen.
            _trouble = failed.Message;
        }
    }

    private async Task StepAsync(CancellationToken cancel)
    {
        if (!_isBegun)
        {
            // A run before this one may have been killed, and what it gave holds until it expires, whatever the vehicle does meanwhile.
            _outside.UnionWith(await desk.AskAsync(s => s.Vehicles.ToArray(), cancel));
            _isBegun = true;
        }

        var now = clock.Now();
        var holds = (await desk.AskAsync(s => s.Advices(now), cancel)).ToDictionary(a => a.Unit);
        foreach (var unit in _outside.Where(u => !holds.TryGetValue(u, out var next) || (_given.TryGetValue(u, out var before) && !before.Is(next.Advice, next.Vehicles))).ToArray())
        {
            if (IsOld(now)) return;
            await WithdrawAsync(unit, cancel);
        }

        var asked = Interlocked.Exchange(ref _asked, 0) != 0;
        foreach (var (unit, advice, vehicles) in holds.Values)
        {
            if (IsOld(now))
            {
                if (asked) Interlocked.Exchange(ref _asked, 1);
                return;
            }

            await GiveAsync(unit, (advice, vehicles), (now, asked), cancel);
        }
    }

    // A broker that takes its time: what held when it was asked about need not hold any more, and the vehicle may move by now. The next look asks anew.
    private bool IsOld(Moment asked) => clock.Now().SecondsSince(asked) > Look.TotalSeconds;

    private async Task GiveAsync(VehicleName unit, (DriverAdvice Advice, Combination Vehicles) what, (Moment Now, bool Asked) when, CancellationToken cancel)
    {
        var before = _given.GetValueOrDefault(unit);
        // What could not be withdrawn is not overwritten by what does not hold together with it: it expires, and the next look tries again.
        if (before is not null && (!before.Is(what.Advice, what.Vehicles) || (!when.Asked && when.Now.SecondsSince(before.At) < Again.TotalSeconds))) return;
        var id = before?.Id ?? MessageId.OfAdvice(unit.ToString(), what.Advice.About.ToString(), when.Now);
        var document = AdviceDocument.Of(id, what.Advice, what.Vehicles, (when.Now, new Moment(when.Now.UnixMilliseconds + (long)Expiry.TotalMilliseconds)));
        _outside.Add(unit);
        if (await PublishAsync(unit, JsonSerializer.SerializeToUtf8Bytes(document, JsonText.Options), cancel)) _given[unit] = new Given(id, what.Advice, what.Vehicles, when.Now);
    }

    private async Task<bool> PublishAsync(VehicleName unit, ReadOnlyMemory<byte> payload, CancellationToken cancel)
    {
        var handing = await broker.PublishAsync(new Publication(TopicOf(unit), payload) { Retain = true, Expiry = payload.IsEmpty ? null : Expiry }, cancel);
        _trouble = handing switch
        {
            Handing.Taken => null,
            Handing.Refused refused => refused.Reason,
            Handing.Away away => away.Reason,
            _ => throw new InvalidOperationException("An outcome of publishing that nobody handles."),
        };
        return handing is Handing.Taken;
    }

    private async Task WithdrawAsync(VehicleName unit, CancellationToken cancel)
    {
        if (!await PublishAsync(unit, default, cancel)) return;
        _given.Remove(unit);
        _outside.Remove(unit);
    }

    private async Task WithdrawAllAsync(CancellationToken cancel)
    {
        try
        {
            foreach (var unit in _outside.ToArray()) await WithdrawAsync(unit, cancel);
        }
        catch (OperationCanceledException)
        {
            // The broker takes its time: what was given expires.
        }
    }

    private sealed record Given(string Id, DriverAdvice Advice, Combination Vehicles, Moment At)
    {
        public bool Is(DriverAdvice advice, Combination vehicles) => Advice.Equals(advice) && Vehicles.Vehicles.Select(v => v.Id).SequenceEqual(vehicles.Vehicles.Select(v => v.Id));
    }
}
