using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Messages.Settings;
using AxleTelemetry.Service.Configuring;
using AxleTelemetry.Service.Serving;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Storage.Delivering;

namespace AxleTelemetry.Service.Delivering;

/// <summary>Tells people and programs of alerts: one follower for each shard, one sender for each recipient, and a clock for those that nobody acknowledges.</summary>
internal sealed class Deliveries : IAsyncDisposable
{
    private const int MostAbout = 200;
    private static readonly TimeSpan Look = TimeSpan.FromSeconds(1);

    private readonly DeliveryFile _file;
    private readonly TimeProvider _clock;
    private readonly Uri? _pages;
    private readonly CancellationTokenSource _stop = new();
    private readonly OutletSet _outlets;
    private readonly List<ChangeFollower> _followers = [];
    private readonly List<ContactNoting> _noting = [];
    private readonly List<AdviceTelling> _advice = [];
    private readonly List<Task> _running = [];
    private volatile ChangeEntry _entry;
    private volatile OutletWays _ways;

    private Deliveries(ServiceConfiguration configuration, DeliverySettings settings, TimeProvider clock)
    {
        (_file, _clock, _pages) = (DeliveryFile.Open(configuration.DataDirectory), clock, configuration.Settings.Http.PublicAddress);
        _outlets = new OutletSet(_file, clock);
        _ways = new OutletWays(configuration, settings, _pages);
        _entry = Entry(settings);
    }

    /// <summary>What the operator set.</summary>
    public DeliverySettings Settings => _ways.Settings;

    /// <summary>The configuration by which people are told at present, with <see cref="Settings"/> for delivery.</summary>
    public ServiceConfiguration Configuration => _ways.Configuration;

    /// <summary>Opens the file and the ways out; sends nothing yet.</summary>
    /// <exception cref="IOException">The file cannot be used; the message says why.</exception>
    public static Deliveries Open(ServiceConfiguration configuration, DeliverySettings settings, TimeProvider clock)
    {
        var all = new Deliveries(configuration, settings, clock);
        foreach (var recipient in settings.Recipients) all.Put(recipient, isMoved: false);
        return all;
    }

    /// <summary>Other settings hold from now on. What goes by MQTT stays as it is until the next start.</summary>
    /// <param name="next">The configuration that they stand in.</param>
    public void Take(ServiceConfiguration next)
    {
        if (next.Settings.Delivery is not { } set) return;
        var (before, settings) = (_ways, set with { AlertsByMqtt = Settings.AlertsByMqtt, AdviceByMqtt = Settings.AdviceByMqtt });
        _ways = new OutletWays(next, settings, _pages);
        // Nothing more is entered for who goes before what waits for him is given up, nor by the old way before what waits goes by the new one.
        _entry = Entry(settings);
        foreach (var recipient in settings.Recipients.Where(r => !_ways.IsSame(r.Name, before))) Put(recipient, !_ways.IsSamePlace(recipient.Name, before));
        foreach (var gone in before.Settings.Recipients.Select(r => r.Name).Where(n => settings.Find(n) is null)) _outlets.Remove(gone, () => GiveUpSome(gone));
        Wake();
    }

    /// <summary>Follows a shard, from where it is before it goes on.</summary>
    public void Follow(ShardDesk desk)
    {
        var follower = new ChangeFollower(desk, _file, () => _entry, _clock);
        follower.Begin();
        _followers.Add(follower);
        _noting.Add(new ContactNoting(desk, _file, _clock));
    }

    /// <summary>Tells by a shard's broker what the settings say.</summary>
    /// <returns>What keeps the displays of drivers; <c>null</c> where they are told nothing.</returns>
    public AdviceTelling? Publish(ShardDesk desk, IPublisher broker)
    {
        if (Settings.AlertsByMqtt) _outlets.Put(new OutletOrder(ChangeEntry.Broker(desk.Name), null, MailSettings.DefaultGiveUp), new BrokerOutlet(broker));
        if (!Settings.AdviceByMqtt) return null;
        var advice = new AdviceTelling(desk, broker, _clock);
        _advice.Add(advice);
        return advice;
    }

    /// <summary>Begins to send.</summary>
    public void Start()
    {
        var now = _clock.Now();
        while (_file.InOneStep(book => book.GiveUpOthers([.. _outlets.All.Keys], now)))
        {
        }

        foreach (var follower in _followers) _running.Add(Task.Run(() => follower.RunAsync(_stop.Token)));
        _outlets.Start();
        foreach (var noting in _noting) _running.Add(Task.Run(() => noting.RunAsync(_stop.Token)));
        foreach (var advice in _advice) _running.Add(Task.Run(() => advice.RunAsync(_stop.Token)));
        _running.Add(Task.Run(RemindAsync));
    }

    /// <summary>How each recipient is told.</summary>
    public ImmutableArray<RecipientState> States() =>
    [
        .. _outlets.All.Values.Select(l => _file.InOneStep(book => new RecipientState(l.Order.Recipient, book.TallyOf(l.Order.Recipient), book.CountOf(l.Order.Recipient, ParcelState.Waiting), book.CountOf(l.Order.Recipient, ParcelState.Dead), l.Trouble))),
    ];

    /// <summary>Why advice does not reach displays at present; empty where it does.</summary>
    public ImmutableArray<string> AdviceTroubles => [.. _advice.Select(a => a.Trouble).OfType<string>()];

    /// <summary>Why changes are not taken in at present; empty where they are.</summary>
    public ImmutableArray<string> Troubles => [.. _followers.Select(f => f.Trouble).OfType<string>()];

    /// <summary>Why it is not entered into the alerts at present whom they reached; empty where it is.</summary>
    public ImmutableArray<string> NotingTroubles => [.. _noting.Select(n => n.Trouble).OfType<string>()];

    /// <summary>Changes of alerts that could not be read, so that nobody was told of them, as far as they are known by name, latest first.</summary>
    public ImmutableArray<UnreadChange> Unread() => _file.InOneStep(book => book.Unread.Since(new Moment(_clock.Now().UnixMilliseconds - DeliveryBook.KeepsDelivered)));

    /// <summary>How many there ever were, by shard.</summary>
    public ImmutableArray<(string Shard, long Count)> UnreadCounts() => _file.InOneStep(book => _followers.Select(f => (f.Shard, book.Unread.CountOf(f.Shard))).ToImmutableArray());

    /// <summary>Outcomes that the book of alerts was never told of: too many waited, or it did not keep their alert any more.</summary>
    public long Unnoted() => _file.InOneStep(book => book.Outcomes.Untold);

    /// <summary>Messages in a state, newest first.</summary>
    public ImmutableArray<Parcel> In(ParcelState state, string? recipient, long before, int limit) => _file.InOneStep(book => book.In(state, recipient, before, limit));

    /// <summary>Messages about an alert, newest first.</summary>
    /// <exception cref="IOException">The file cannot be read now.</exception>
    public ImmutableArray<Parcel> About(string alert) => _file.InOneStep(book => book.About(alert, MostAbout));

    /// <summary>Messages about an alert that are still to be sent and will be entered as having reached somebody, as they came.</summary>
    /// <exception cref="IOException">The file cannot be read now.</exception>
    public ImmutableArray<Parcel> WaitingAbout(string alert) => _file.InOneStep(book => book.WaitingAbout(alert, MostAbout));

    /// <summary>A given-up message is sent again.</summary>
    public SendingAgain SendAgain(long number)
    {
        var now = _clock.Now();
        var outcome = _file.InOneStep(book => SendingAgain.Try(book, number, _outlets.All.ContainsKey, now));
        Wake();
        return outcome;
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        await _stop.CancelAsync();
        await Task.WhenAll(_running);
        await _outlets.DisposeAsync();
        _file.Dispose();
        _stop.Dispose();
    }

    private void Put(RecipientSettings recipient, bool isMoved)
    {
        var (outlet, giveUp) = _ways.Outlet(recipient, _clock);
        _outlets.Put(new OutletOrder(recipient.Name, recipient.MostPerHour, giveUp) { Channel = Routing.Channel(recipient), IsMoved = isMoved, Ended = WakeNoting }, outlet);
    }

    private ChangeEntry Entry(DeliverySettings settings) => new(new Routing(settings), settings.AlertsByMqtt, Wake);

    private void Wake() => _outlets.Wake();

    private void WakeNoting()
    {
        foreach (var noting in _noting) noting.Wake();
    }

    private bool GiveUpSome(string recipient)
    {
        try
        {
            var now = _clock.Now();
            var isMore = _file.InOneStep(book => book.GiveUpSome(recipient, now));
            WakeNoting();
            return isMore;
        }
        catch (IOException)
        {
            // The followers say that the file cannot be written; the next start gives up what waits then.
            return false;
        }
    }

    private async Task RemindAsync()
    {
        using var timer = new PeriodicTimer(Look, _clock);
        try
        {
            while (await timer.WaitForNextTickAsync(_stop.Token)) Remind();
        }
        catch (OperationCanceledException) when (_stop.IsCancellationRequested)
        {
            // Told to stop: what is due then is told after the next start.
        }
    }

    private void Remind()
    {
        try
        {
            var now = _clock.Now();
            if (_file.InOneStep(book => _entry.Remind(book, now))) Wake();
        }
        catch (IOException)
        {
            // The followers say that the file cannot be written; what is due stays due.
        }
    }
}

/// <summary>How a recipient is told.</summary>
/// <param name="Recipient">Who.</param>
/// <param name="Tally">What came of the messages, ever.</param>
/// <param name="Waiting">Messages that wait.</param>
/// <param name="Dead">Given-up messages that are kept.</param>
/// <param name="Trouble">Why nothing gets through at present; <c>null</c> where it does.</param>
internal sealed record RecipientState(string Recipient, DeliveryTally Tally, long Waiting, long Dead, string? Trouble);
