using System.Collections.Immutable;
using System.Text;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Service.Fleet;
using AxleTelemetry.Service.Inputs;

namespace AxleTelemetry.Service.Tests.Fleet;

/// <summary>A fleet of the example vehicles, what was sent to it and what came of it.</summary>
internal sealed class Convoy
{
    public const long Begin = 1_772_431_200_000;

    private static readonly FleetInput Input = Load();
    private long _received = Begin;

    public Convoy(ImmutableDictionary<string, ImmutableArray<string>>? coupled = null, TimeSpan? wait = null) => Lanes = new FleetLanes(
        new Roster(Input.Vehicles), Input.Setup, Events.Add,
        new FleetOptions { Wait = wait ?? TimeSpan.FromSeconds(2), Coupled = coupled ?? ImmutableDictionary<string, ImmutableArray<string>>.Empty });

    public FleetLanes Lanes { get; }

    public List<FleetEvent> Events { get; } = [];

    public PoweredUnit this[string id] => Lanes.Units.Single(u => u.Name.Id == id);

    public Trailer Trailer(string id) => Lanes.Trailers.Single(t => t.Name.Id == id);

    public IEnumerable<LaneOutput> Said(string id) => Events.OfType<FleetEvent.Said>().Where(e => e.Vehicle.Id == id).Select(e => e.Output);

    /// <summary>Sends a message; every one is received a millisecond after the one before.</summary>
    public void Send(string vehicle, string stream, string payload) => SendTo($"axles/v1/north/{vehicle}/{stream}", payload);

    public void SendTo(string topic, string payload) => Lanes.Take(topic, Encoding.UTF8.GetBytes(payload), new Moment(++_received + 7_200_000));

    public void Pressure(string vehicle, double at, string kpa) => Send(vehicle, "pressure", $$$"""{"samples":[{"t":{{{Ms(at)}}},"kpa":{ {{{kpa}}} }}]}""");

    public void Lift(string vehicle, double at, string axle, string state) => Send(vehicle, "lift", $$$"""{"samples":[{"t":{{{Ms(at)}}},"axles":{"{{{axle}}}":"{{{state}}}"}}]}""");

    public void Couple(string vehicle, double at, params string[] trailers) =>
        Send(vehicle, "coupling", $$"""{"samples":[{"t":{{Ms(at)}},"trailers":[{{string.Join(',', trailers.Select(t => $"\"{t}\""))}}]}]}""");

    /// <summary>Receive time passes without a message.</summary>
    public void Silence(double seconds) => Lanes.Advance(new Moment(_received + 7_200_000 + (long)(seconds * 1000)));

    public static long Ms(double seconds) => Begin + (long)Math.Round(seconds * 1000);

    private static FleetInput Load()
    {
        var errors = new List<InputProblem>();
        var input = FleetInput.Load(new InputRequest { VehicleFiles = [ExampleFiles.Of("")] }, errors);
        Assert.Empty(errors);
        return input!;
    }
}
