using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Service.Fleet;
using AxleTelemetry.Service.Inputs;

namespace AxleTelemetry.Service.Tests.Serving;

/// <summary>Recordings that nothing comes of would prove nothing: here something does.</summary>
public sealed class RandomFleetTests
{
    [Fact]
    public void Overloads_begin_and_end_loads_change_axles_move_and_trailers_change()
    {
        var events = Enumerable.Range(1, 4).SelectMany(seed => Followed((ulong)seed)).ToList();
        Assert.DoesNotContain(events, e => e is FleetEvent.Refused or FleetEvent.Unknown or FleetEvent.Stopped or FleetEvent.CouplingRefused);
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
        var errors = new List<InputProblem>();
        var input = FleetInput.Load(new InputRequest { VehicleFiles = [ExampleFiles.Of("")] }, errors);
        Assert.Empty(errors);
        var events = new List<FleetEvent>();
        var lanes = new FleetLanes(new Roster(input!.Vehicles), input.Setup, events.Add, new FleetOptions());
        foreach (var message in RandomFleet.Recording(seed)) lanes.Take(message.Topic, message.Payload.Span, message.Received ?? default(Moment));
        lanes.Flush();
        return events;
    }
}
