using System.Collections.Immutable;
using System.Net.Sockets;
using AxleTelemetry.Messages.Settings;
using AxleTelemetry.Service.Configuring;
using AxleTelemetry.Service.Contacts;
using AxleTelemetry.Service.Delivering;
using AxleTelemetry.Service.Receiving;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Storage.Opening;
using AxleTelemetry.Storage.Series;

namespace AxleTelemetry.Service.Hosting;

/// <summary>The service without its pages: shards at work, receivers, and an eye on the files of the configuration.</summary>
internal sealed class FleetService : IAsyncDisposable
{
    private static readonly TimeSpan Look = TimeSpan.FromSeconds(1);

    private readonly ImmutableArray<RunningShard> _shards;
    private readonly Surroundings _around;
    private readonly ConfigurationWatch _watch;
    private readonly CancellationTokenSource _stop = new();
    private EmbeddedBroker? _broker;
    private Deliveries? _deliveries;
    private readonly List<BrokerPublisher> _publishers = [];
    private Task _watching = Task.CompletedTask;
    private ImmutableArray<string> _errors = [];

    private FleetService(string settings, ServiceConfiguration configuration, ImmutableArray<RunningShard> shards, Surroundings around)
    {
        (_shards, _around) = (shards, around);
        _watch = new ConfigurationWatch(settings, configuration, around.Clock);
        foreach (var shard in shards) shard.Loop.ConfigurationErrors = () => _errors;
    }

    /// <summary>The shards, for others to ask.</summary>
    public ImmutableArray<ShardDesk> Desks => [.. _shards.Select(s => s.Desk)];

    /// <summary>Who is told of alerts, and how it goes; <c>null</c> where nobody is.</summary>
    public Deliveries? Deliveries => _deliveries;

    /// <summary>Whom to phone, as the files say it now.</summary>
    public PhoneBook Phones => _watch.Current.Phones;

    /// <summary>Where the broker inside listens; <c>null</c> for a broker elsewhere.</summary>
    public System.Net.IPEndPoint? BrokerEndPoint => _broker?.EndPoint;

    /// <summary>Opens the journals of all shards, starts, and begins to receive; or says why not, and leaves nothing behind.</summary>
    public static async Task<ServiceStart> StartAsync(string settings, ServiceConfiguration configuration, Surroundings around)
    {
        if (configuration.Settings is { Broker: BrokerSettings.Embedded, Shards.Length: > 1 })
            return new ServiceStart.Failed("Several shards need a broker of their own kind: the broker inside serves one. Set 'broker', or leave 'shards' out.");
        var opened = ImmutableArray.CreateBuilder<RunningShard>();
        foreach (var shard in configuration.Settings.Shards)
        {
            switch (ShardOpening.Open(configuration.DataDirectory, shard.Name, new JournalOptions(), around.Shards))
            {
                case ShardOpening.Opened good:
                    opened.Add(new RunningShard(shard, good, configuration.Settings.Bounds, around));
                    break;
                case ShardOpening.Failed failed:
                    return Close(opened, failed.Why);
                case ShardOpening.InUse used:
                    return Close(opened, used.Why);
                default:
                    throw new InvalidOperationException("An outcome of opening that nobody handles.");
            }
        }

        var service = new FleetService(settings, configuration, opened.ToImmutable(), around);
        return await service.StartAsync(configuration, new SettingsPlace(settings)) is { } why ? await service.FailAsync(why) : new ServiceStart.Started(service);
    }

    public async ValueTask DisposeAsync()
    {
        await _stop.CancelAsync();
        await _watching;
        if (_deliveries is not null) await _deliveries.DisposeAsync();
        foreach (var publisher in _publishers) publisher.Dispose();
        // First nothing more is sent to us, then what was taken is committed.
        var stopping = _shards.Select(s => s.StopAsync()).ToArray();
        await Task.WhenAll(stopping);
        if (_broker is not null) await _broker.DisposeAsync();
        foreach (var shard in _shards) shard.Dispose();
        _stop.Dispose();
    }

    private static ServiceStart.Failed Close(IEnumerable<RunningShard> opened, string why)
    {
        foreach (var shard in opened) shard.Dispose();
        return new ServiceStart.Failed(why);
    }

    private async Task<ServiceStart> FailAsync(string why)
    {
        await DisposeAsync();
        return new ServiceStart.Failed(why);
    }

    private async Task<string?> StartAsync(ServiceConfiguration configuration, SettingsPlace place)
    {
        if (configuration.Settings.Delivery is { } delivery && Deliver(configuration, delivery) is { } unusable) return unusable;
        foreach (var shard in _shards)
        {
            if (configuration.Settings.Series is null) shard.CarryNowhere();
            shard.Loop.Add(new ShardJob.Configure(configuration.Of(shard.Settings)));
            shard.Loop.Start();
            if (configuration is { Settings.Series: { } series, SeriesToken: { } token })
                shard.Carry(new SeriesClient(new SeriesTarget(series.Url, series.Organisation, series.Bucket), System.Text.Encoding.UTF8.GetString(token.Reveal())), _around.Clock);
        }

        switch (configuration.Settings.Broker)
        {
            case BrokerSettings.External external:
                foreach (var shard in _shards)
                {
                    if (_deliveries is not null) _deliveries.Publish(shard.Desk, Publisher(ReceiverSetup.Of(external, shard.Settings, place)));
                    shard.Receive(new BrokerReceiver(ReceiverSetup.Of(external, shard.Settings, place), shard.Intake, shard.Trace, _around.Clock, notice => _around.TellReceiver(shard.Settings.Name, notice)));
                }

                break;
            case BrokerSettings.Embedded embedded:
                if (await ListenAsync(embedded, configuration) is { } why) return why;
                break;
            default:
                throw new InvalidOperationException("A kind of broker that nobody handles.");
        }

        _deliveries?.Start();
        _watching = WatchAsync();
        return null;
    }

    private BrokerPublisher Publisher(BrokerOptions options)
    {
        var publisher = new BrokerPublisher(options, _around.Clock);
        _publishers.Add(publisher);
        return publisher;
    }

    private string? Deliver(ServiceConfiguration configuration, DeliverySettings delivery)
    {
        try
        {
            _deliveries = Deliveries.Open(configuration, delivery, _around.Clock);
            foreach (var shard in _shards) _deliveries.Follow(shard.Desk);
            return null;
        }
        catch (IOException unusable)
        {
            return unusable.Message;
        }
    }

    private async Task<string?> ListenAsync(BrokerSettings.Embedded embedded, ServiceConfiguration configuration)
    {
        var broker = _broker = new EmbeddedBroker(ReceiverSetup.Of(embedded, configuration), _shards[0].Intake, _shards[0].Trace);
        try
        {
            await broker.StartAsync();
        }
        catch (SocketException taken)
        {
            return $"The broker inside cannot listen on {embedded.Listen}: {taken.Message}. Set another address at 'embedded_broker.listen', or stop what uses it.";
        }

        _shards[0].Loop.Devices = () => broker.Devices;
        if (_deliveries?.Publish(_shards[0].Desk, broker) is { } advice) broker.Subscribed = advice.GiveAgain;
        return null;
    }

    private async Task WatchAsync()
    {
        using var timer = new PeriodicTimer(Look, _around.Clock);
        try
        {
            while (await timer.WaitForNextTickAsync(_stop.Token)) Take(await Task.Run(_watch.Poll));
        }
        catch (OperationCanceledException) when (_stop.IsCancellationRequested)
        {
            // The service stops.
        }
    }

    private void Take(WatchResult seen)
    {
        switch (seen)
        {
            case WatchResult.Unchanged:
                if (_watch.Errors.IsEmpty) _errors = [];
                break;
            case WatchResult.Changed changed:
                _errors = [];
                foreach (var shard in _shards) shard.Loop.Add(new ShardJob.Configure(changed.Next.Of(shard.Settings)));
                var recipients = RecipientChange.Of(_deliveries?.Configuration, changed.Before, changed.Next);
                _deliveries?.Take(changed.Next);
                _around.TellConfiguration(true, changed.Change.ToString());
                if (recipients.Told is { } told) _around.TellConfiguration(true, told);
                foreach (var later in changed.AfterRestart.Concat(recipients.AfterRestart)) _around.TellConfiguration(false, $"{later} changed: it holds after a restart.");
                break;
            case WatchResult.Refused refused:
                _errors = [.. refused.Errors.Select(e => e.ToString())];
                foreach (var error in refused.Errors) _around.TellConfiguration(false, $"The configuration stays as it was: {error}");
                break;
            default:
                throw new InvalidOperationException("An outcome of looking that nobody handles.");
        }
    }
}

/// <summary>What came of starting.</summary>
internal abstract record ServiceStart
{
    private ServiceStart() { }

    /// <summary>It runs.</summary>
    public sealed record Started(FleetService Service) : ServiceStart;

    /// <summary>It does not, and why.</summary>
    public sealed record Failed(string Why) : ServiceStart;
}
