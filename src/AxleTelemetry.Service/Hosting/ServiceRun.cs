using System.CommandLine;
using System.Net;
using AxleTelemetry.Service.Configuring;
using AxleTelemetry.Service.Receiving;
using AxleTelemetry.Service.Serving;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Web.Accounts;
using AxleTelemetry.Web.People;
using Serilog;
using Serilog.Events;

namespace AxleTelemetry.Service.Hosting;

/// <summary>One run of the service, from its start until it is told to stop.</summary>
/// <param name="settings">Path of the settings file, which is watched.</param>
/// <param name="configuration">What it says.</param>
/// <param name="hook">Told of every step of a message; <c>null</c> where nobody listens.</param>
internal sealed class ServiceRun(string settings, ServiceConfiguration configuration, Action<TraceEvent>? hook)
{
    /// <summary>The log as one JSON object a line.</summary>
    public bool LogsJson { get; init; }

    /// <summary>Logs nothing but what is wrong.</summary>
    public bool IsQuiet { get; init; }

    /// <summary>The fleet is invented, and whoever sits at this machine may do everything.</summary>
    public bool IsDemonstration { get; init; }

    /// <summary>What sets where pages are served, for a person.</summary>
    public string PagesOption { get; init; } = "'http.listen'";

    /// <summary>Something that runs beside it once it serves, and is told to stop before it stops; receives where the broker inside listens.</summary>
    public Func<IPEndPoint, CancellationToken, Task>? Beside { get; init; }

    /// <summary>Runs. False where it could not start; why was told then.</summary>
    public async Task<bool> UntilAsync(InvocationConfiguration console, CancellationToken cancel)
    {
        await using var sink = LogSetup.Create(console.Output, LogsJson, IsQuiet ? LogEventLevel.Warning : LogEventLevel.Information);
        using var factory = LoggerFactory.Create(logging => logging.AddSerilog(sink));
        var log = factory.CreateLogger("AxleTelemetry");
        switch (await FleetService.StartAsync(settings, configuration, Around(log)))
        {
            case ServiceStart.Failed failed:
                await console.Error.WriteLineAsync(failed.Why);
                return false;
            case ServiceStart.Started { Service: var service }:
                await using (service)
                {
                    if (service.BrokerEndPoint is { } broker) log.BrokerListens(broker.ToString());
                    return await ServeAsync(service, (sink, log), console.Error, cancel);
                }

            default:
                throw new InvalidOperationException("An outcome of starting that nobody handles.");
        }
    }

    private async Task<bool> ServeAsync(FleetService service, (Serilog.Core.Logger Sink, Microsoft.Extensions.Logging.ILogger Log) logging, TextWriter error, CancellationToken cancel)
    {
        var listen = configuration.Settings.Http.Listen;
        // Only who holds the journal says with what its commands ask.
        var serving = configuration with { CommandToken = CommandToken.Write(configuration.DataDirectory) };
        if (serving.CommandToken is null) logging.Log.NoCommandToken(configuration.DataDirectory);
        await using var app = HttpHost.Build(serving, listen, new Desks(service.Desks) { Phones = () => service.Phones, Deliveries = service.Deliveries }, (TimeProvider.System, l => l.AddSerilog(logging.Sink)), IsDemonstration);
        try
        {
            await app.StartAsync(cancel);
        }
        catch (OperationCanceledException) when (cancel.IsCancellationRequested)
        {
            // Told to stop while it still starts: what was taken meanwhile is committed as ever.
            return true;
        }
        catch (PeopleFileException unusable)
        {
            await error.WriteLineAsync(unusable.Message);
            return false;
        }
        catch (IOException taken)
        {
            await error.WriteLineAsync($"Pages cannot be served on {listen}: {taken.Message.TrimEnd('.')}. Set another address at {PagesOption}, or stop what uses it.");
            return false;
        }

        logging.Log.Serving($"http://{listen}");
        if (!IsDemonstration) await SayLinkAsync(app, logging.Log);
        await BesideAsync(service, cancel);
        await app.StopAsync(CancellationToken.None);
        logging.Log.Stopped();
        return true;
    }

    private async Task SayLinkAsync(WebApplication app, Microsoft.Extensions.Logging.ILogger log)
    {
        try
        {
            if (await app.Services.GetRequiredService<FirstStart>().LinkAsync() is { } link)
                log.FirstAdministrator(new Uri(configuration.Settings.Http.PublicAddress ?? new Uri($"http://{Near(configuration.Settings.Http.Listen)}"), link).ToString());
        }
        catch (PeopleFileException full)
        {
            // A full disk must not keep what receives and commits from being there.
            log.NoFirstAdministrator(full.Message);
        }
    }

    // An address that stands for all of this machine's is none that a browser goes to.
    private static string Near(Messages.Settings.ListenAddress listen) =>
        listen.Address.Equals(IPAddress.Any) || listen.Address.Equals(IPAddress.IPv6Any) ? FormattableString.Invariant($"localhost:{listen.Port}") : listen.ToString();

    private async Task BesideAsync(FleetService service, CancellationToken cancel)
    {
        try
        {
            // What fails beside it ends it: nobody would notice otherwise.
            if (Beside is not null) await Beside(service.BrokerEndPoint ?? throw new InvalidOperationException("There is no broker inside."), cancel);
            await Task.Delay(Timeout.Infinite, cancel);
        }
        catch (OperationCanceledException) when (cancel.IsCancellationRequested)
        {
            // Told to stop.
        }
    }

    private Surroundings Around(Microsoft.Extensions.Logging.ILogger log) => new()
    {
        Clock = TimeProvider.System,
        Hook = hook,
        TellReceiver = (shard, notice) =>
        {
            if (notice is ReceiverNotice.Troubled or ReceiverNotice.Holding) log.NotReceiving(shard, notice.Text);
            else log.Receiving(shard, notice.Text);
        },
        TellShard = notice =>
        {
            if (notice is ShardNotice.CommitsFail or ShardNotice.LaneStopped or ShardNotice.NotRead or ShardNotice.Ended) log.ShardTroubled(notice.Shard, notice.Text);
            else log.ShardChanged(notice.Shard, notice.Text);
        },
        TellConfiguration = (taken, sentence) =>
        {
            if (taken) log.ConfigurationTaken(sentence);
            else log.ConfigurationKept(sentence);
        },
    };
}
