using System.Text;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Service.Tests.Watching;
using AxleTelemetry.Service.Watching;

namespace AxleTelemetry.Service.Tests.Serving;

/// <summary>Recordings that nothing comes of would prove nothing: here something does.</summary>
public sealed class RandomFleetTests
{
    [Fact]
    public void Overloads_begin_and_end_loads_change_axles_move_and_trailers_change()
    {
        var events = Enumerable.Range(1, 4).SelectMany(seed => Followed((ulong)seed)).ToList();
        Assert.DoesNotContain(events, e => e is FleetEvent.Refused or FleetEvent.Unknown or FleetEvent.Stopped);
        var said = events.OfType<FleetEvent.Said>().Select(e => e.Output).ToList();
        Assert.True(said.OfType<LaneOutput.LoadBegan>().Count() > 20, $"{said.OfType<LaneOutput.LoadBegan>().Count()} loads");
        Assert.True(said.OfType<LaneOutput.Configured>().Count() > 20, $"{said.OfType<LaneOutput.Configured>().Count()} configurations");
        foreach (var change in (EpisodeChange[])[EpisodeChange.Opened, EpisodeChange.Closed])
        {
            var overloads = said.OfType<LaneOutput.Episode>().Count(e => e.Key.Kind == FindingKind.Overload && e.Change == change);
            Assert.True(overloads > 10, $"{overloads} overloads {change}");
        }

        Assert.True(events.OfType<FleetEvent.Coupled>().Count() > 8, $"{events.OfType<FleetEvent.Coupled>().Count()} couplings");
    }

    private static List<FleetEvent> Followed(ulong seed)
    {
        var convoy = new WatchedConvoy(wait: TimeSpan.FromSeconds(30));
        foreach (var message in RandomFleet.Recording(seed)) convoy.SendAt(message.Topic, Encoding.UTF8.GetString(message.Payload.Span), message.Received ?? default(Moment));
        convoy.End();
        return convoy.Events;
    }
}
