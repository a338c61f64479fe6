using System.Collections.Immutable;
using AxleTelemetry.Service.Hosting;
using AxleTelemetry.Service.Serving;
using AxleTelemetry.Service.Sharding;

namespace AxleTelemetry.Service.Metering;

/// <summary>The latest figures of each shard, taken anew every ten seconds.</summary>
internal sealed class FleetFigureBoard(Desks desks, TimeProvider clock, ILogger<FleetFigureBoard> log) : BackgroundService
{
    private static readonly TimeSpan Every = TimeSpan.FromSeconds(10);
    private ImmutableDictionary<string, FleetFigures> _figures = ImmutableDictionary<string, FleetFigures>.Empty;

    public FleetFigures Of(string shard) => Volatile.Read(ref _figures).GetValueOrDefault(shard, FleetFigures.None);

    /// <summary>Takes them now.</summary>
    public async Task RefreshAsync(CancellationToken cancel)
    {
        var figures = ImmutableDictionary.CreateBuilder<string, FleetFigures>();
        foreach (var desk in desks.All)
        {
            try
            {
                figures.Add(desk.Name, await FleetFigures.OfAsync(desk, clock.Now(), cancel));
            }
            catch (Exception gone) when (gone is ShardNotRunningException || gone is OperationCanceledException && !cancel.IsCancellationRequested)
            {
                // It does not run, or ended while it was asked. Health says so; the figures of before would be told as if they were of now.
            }
        }

        Volatile.Write(ref _figures, figures.ToImmutable());
    }

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        using var timer = new PeriodicTimer(Every, clock);
        do
        {
            try
            {
                await RefreshAsync(stoppingToken);
            }
            catch (OperationCanceledException) when (stoppingToken.IsCancellationRequested)
            {
                return;
            }
            catch (Exception failed) when (failed is not OutOfMemoryException)
            {
                // A measure that fails must not stop the service; the figures of before stand.
                log.FiguresFailed(failed);
            }
        }
        while (await WaitAsync(timer, stoppingToken));
    }

    private static async Task<bool> WaitAsync(PeriodicTimer timer, CancellationToken stop)
    {
        try
        {
            return await timer.WaitForNextTickAsync(stop);
        }
        catch (OperationCanceledException)
        {
            return false;
        }
    }
}
