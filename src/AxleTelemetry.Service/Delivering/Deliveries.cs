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
    private static readonly TimeSpan Look = TimeSpan.FromSeconds(1);

    private readonly DeliveryFile _file;
    private readonly ChangeEntry _entry;
    private readonly TimeProvider _clock;
    private readonly CancellationTokenSource _stop = new();
    private readonly List<OutletLoop> _loops = [];
    private readonly List<ChangeFollower> _followers = [];
    private readonly List<AdviceTelling> _advice = [];
    private readonly List<Task> _running = [];

    private Deliveries(DeliverySettings settings, DeliveryFile file, TimeProvider clock)
    {
        (Settings, _file, _clock) = (settings, file, clock);
        _entry = new ChangeEntry(new Routing(settings), settings.AlertsByMqtt, Wake);
    }

    /// <summary>What the operator set.</summary>
    public DeliverySettings Settings { get; }

    /// <summary>Opens the file and the ways out; sends nothing yet.</summary>
    /// <exception cref="IOException">The file cannot be used; the message says why.</exception>
    public static Deliveries Open(ServiceConfiguration configuration, DeliverySettings settings, TimeProvider clock)
    {
        var all = new Deliveries(settings, DeliveryFile.Open(configuration.DataDirectory), clock);
        foreach (var recipient in settings.Recipients)
        {
            var (outlet, giveUp) = Outlet(recipient, configuration, clock);
            all.Add(new OutletOrder(recipient.Name, recipient.MostPerHour, giveUp), outlet);
        }

        return all;
    }

    /// <summary>Sends to a recipient by a way out of its own.</summary>
    public void Add(OutletOrder order, IOutlet outlet) => _loops.Add(new OutletLoop(order, outlet, _file, _clock));

    /// <summary>Follows a shard, from where it is before it goes on.</summary>
    public void Follow(ShardDesk desk)
    {
        var follower = new ChangeFollower(desk, _file, _entry, _clock);
        follower.Begin();
        _followers.Add(follower);
    }

    /// <summary>Tells by a shard's broker what the settings say.</summary>
    /// <returns>What keeps the displays of drivers; <c>null</c> where they are told nothing.</returns>
    public AdviceTelling? Publish(ShardDesk desk, IPublisher broker)
    {
        if (Settings.AlertsByMqtt) Add(new OutletOrder(ChangeEntry.Broker(desk.Name), null, MailSettings.DefaultGiveUp), new BrokerOutlet(broker));
        if (!Settings.AdviceByMqtt) return null;
        var advice = new AdviceTelling(desk, broker, _clock);
        _advice.Add(advice);
        return advice;
    }

    /// <summary>Begins to send.</summary>
    public void Start()
    {
        var now = _clock.Now();
        _file.InOneStep(book => book.GiveUpOthers([.. _loops.Select(l => l.Order.Recipient)], now));
        foreach (var follower in _followers) _running.Add(Task.Run(() => follower.RunAsync(_stop.Token)));
        foreach (var loop in _loops) _running.Add(Task.Run(() => loop.RunAsync(_stop.Token)));
        foreach (var advice in _advice) _running.Add(Task.Run(() => advice.RunAsync(_stop.Token)));
        _running.Add(Task.Run(RemindAsync));
    }

    /// <summary>How each recipient is told.</summary>
    public ImmutableArray<RecipientState> States() =>
    [
        .. _loops.Select(l => _file.InOneStep(book => new RecipientState(l.Order.Recipient, book.TallyOf(l.Order.Recipient), book.CountOf(l.Order.Recipient, ParcelState.Waiting), book.CountOf(l.Order.Recipient, ParcelState.Dead), l.Trouble))),
    ];

    /// <summary>Why advice does not reach displays at present; empty where it does.</summary>
    public ImmutableArray<string> AdviceTroubles => [.. _advice.Select(a => a.Trouble).OfType<string>()];

    /// <summary>Why changes are not taken in at present; empty where they are.</summary>
    public ImmutableArray<string> Troubles => [.. _followers.Select(f => f.Trouble).OfType<string>()];

    /// <summary>Messages in a state, newest first.</summary>
    public ImmutableArray<Parcel> In(ParcelState state, string? recipient, long before, int limit) => _file.InOneStep(book => book.In(state, recipient, before, limit));

    /// <summary>A given-up message is sent again. False where there is none of that number.</summary>
    public bool SendAgain(long number)
    {
        var now = _clock.Now();
        if (!_file.InOneStep(book => book.SendAgain(number, now))) return false;
        Wake();
        return true;
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        await _stop.CancelAsync();
        await Task.WhenAll(_running);
        foreach (var loop in _loops) loop.Dispose();
        _file.Dispose();
        _stop.Dispose();
    }

    private static (IOutlet Outlet, TimeSpan GiveUpAfter) Outlet(RecipientSettings recipient, ServiceConfiguration configuration, TimeProvider clock) => recipient.Outlet switch
    {
        OutletSettings.Webhook hook => (new WebhookOutlet(hook, WebhookSecret.Read(configuration.WebhookSecrets[recipient.Name])!, recipient.Language, clock), hook.GiveUpAfter),
        OutletSettings.Mail => (new MailOutlet(configuration.Settings.Delivery!.Mail!, recipient, (configuration.MailPassword, configuration.MailAuthorities), new MailText(recipient, configuration.Settings.Http.PublicAddress)), configuration.Settings.Delivery.Mail!.GiveUpAfter),
        _ => throw new InvalidOperationException("A way out that nobody knows."),
    };

    private void Wake()
    {
        foreach (var loop in _loops) loop.Wake();
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
