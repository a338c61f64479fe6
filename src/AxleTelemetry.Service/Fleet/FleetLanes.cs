using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Messages.Payloads;
using AxleTelemetry.Messages.Refusals;
using AxleTelemetry.Messages.Topics;

namespace AxleTelemetry.Service.Fleet;

/// <summary>
/// Follows a fleet: decodes what comes, brings it into the order of its moments, steps the lane of the right combination.
/// Knows no clock: receive times come with the messages. For one thread.
/// </summary>
/// <remarks>
/// A reading waits until something of its combination is <see cref="FleetOptions.Wait"/> later, or nothing came for as long.
/// What comes after that is counted as late and not stepped: a lane goes forward only, and nothing is stored here from
/// which its history could be run again.
/// </remarks>
internal sealed class FleetLanes
{
    private readonly Roster _roster;
    private readonly FleetOptions _options;
    private readonly Func<Combination, LaneSetup> _setup;
    private readonly Action<FleetEvent> _tell;
    private readonly SortedDictionary<VehicleName, PoweredUnit> _units = [];
    private readonly SortedDictionary<VehicleName, Trailer> _trailers = [];
    private readonly DecodedMessage _message = new();
    private readonly CouplingDesk _couplings;
    private readonly long _wait;

    /// <summary>Opens a fleet that nothing has been heard of.</summary>
    /// <param name="roster">The vehicles that are described.</param>
    /// <param name="setup">Prepares the lane of a combination.</param>
    /// <param name="tell">Receives what comes to light, in order for each vehicle.</param>
    /// <param name="options">What the operator set.</param>
    public FleetLanes(Roster roster, Func<Combination, LaneSetup> setup, Action<FleetEvent> tell, FleetOptions options)
    {
        _roster = roster;
        _setup = setup;
        _tell = tell;
        _options = options;
        _wait = (long)options.Wait.TotalMilliseconds;
        _couplings = new CouplingDesk(name => roster.Find(name.Id) is { } described ? TrailerOf(name, described) : null, name => _units.GetValueOrDefault(name), tell);
    }

    /// <summary>Messages received, of whatever kind.</summary>
    public long Messages { get; private set; }

    /// <summary>What was refused, by vehicle; under empty names what no vehicle can be named for.</summary>
    public RefusalCounter Refusals { get; } = new();

    /// <summary>Messages of vehicles that nobody described.</summary>
    public UnknownVehicles Unknown { get; } = new();

    /// <summary>Powered vehicles heard of, by name.</summary>
    public IReadOnlyCollection<PoweredUnit> Units => _units.Values;

    /// <summary>Trailers heard of, by name.</summary>
    public IReadOnlyCollection<Trailer> Trailers => _trailers.Values;

    /// <summary>Takes a message. Never throws for what it holds.</summary>
    public void Take(string topic, ReadOnlySpan<byte> payload, Moment received)
    {
        Messages++;
        switch (Topic.Parse(topic))
        {
            case TopicResult.Named named:
                Take(named.Topic, payload, received);
                break;
            case TopicResult.Refused refused:
                Refuse(default, received, refused.Refusal);
                break;
            default:
                throw new InvalidOperationException("An outcome of parsing a topic that nobody handles.");
        }
    }

    /// <summary>Receive time has passed: what nothing came after is not waited for longer.</summary>
    public void Advance(Moment now)
    {
        foreach (var unit in _units.Values)
            if (unit.Waits && now.UnixMilliseconds - unit.LastReceived.UnixMilliseconds >= _wait) unit.Release(unit.Newest);
        foreach (var trailer in _trailers.Values)
            if (trailer.Queue.Waiting > 0 && now.UnixMilliseconds - trailer.LastReceived.UnixMilliseconds >= _wait) trailer.PassOver(trailer.Queue.Newest);
    }

    /// <summary>Nothing more will come: everything that waits is taken.</summary>
    public void Flush()
    {
        foreach (var unit in _units.Values)
            if (unit.Waits) unit.Release(unit.Newest);
        foreach (var trailer in _trailers.Values) trailer.PassOver(trailer.Queue.Newest);
    }

    /// <summary>Says that something was refused outside any message, or for no vehicle that is followed.</summary>
    public void Refuse(VehicleName vehicle, Moment at, Refusal refusal)
    {
        Refusals.Add(vehicle.Fleet ?? "", vehicle.Id ?? "", at, refusal);
        _tell(new FleetEvent.Refused(vehicle, at, refusal));
    }

    private void Take(Topic topic, ReadOnlySpan<byte> payload, Moment received)
    {
        var name = new VehicleName(topic.Fleet, topic.Vehicle);
        if (_roster.Find(topic.Vehicle) is not { } described)
        {
            if (Unknown.Count(name)) _tell(new FleetEvent.Unknown(name, received));
            return;
        }

        Followed vehicle = described.Vehicle.Kind.IsPowered() ? UnitOf(name, described) : TrailerOf(name, described);
        PayloadDecoder.Decode(payload, new Envelope(topic, described.Keys, received, _options.AllowedSkew), _message);
        vehicle.Counts.Messages++;
        vehicle.LastReceived = received;
        TellRefusals(vehicle, received);
        if (_message.Sequence is { } sequence) vehicle.Counts.TakeSequence(topic.Stream, sequence, _message.Boot);
        if (_message.Presence is { } presence) vehicle.Online = presence.Online;
        foreach (var coupling in _message.Couplings) _couplings.Take(vehicle, coupling);
        foreach (ref readonly var reading in _message.Readings) vehicle.Add(reading);
        Release(vehicle, received);
    }

    private void TellRefusals(Followed vehicle, Moment received)
    {
        if (_message.Refusals.Total == 0) return;
        Refusals.Add(vehicle.Name.Fleet, vehicle.Name.Id, received, _message.Refusals);
        foreach (var refusal in _message.Refusals.Details) _tell(new FleetEvent.Refused(vehicle.Name, received, refusal));
    }

    private void Release(Followed vehicle, Moment received)
    {
        if (vehicle is PoweredUnit unit) Release(unit);
        if (vehicle is not Trailer trailer) return;
        var due = trailer.Queue.Newest == long.MinValue ? long.MinValue : trailer.Queue.Newest - _wait;
        while (trailer.Queue.Waiting > 0 && trailer.Queue.Next.At.UnixMilliseconds is var at && at <= due)
        {
            // Whoever pulled it then has to take its readings before whoever pulls it now can.
            if (trailer.Claims.At(at) is { } holder) Release(_units[holder], received, at);
            trailer.PassOver(due);
            if (trailer.Queue.Waiting > 0 && trailer.Queue.Next.At.UnixMilliseconds == at) break;
        }

        if (trailer.Claims.At(trailer.Queue.Newest) is not { } now) return;
        _units[now].LastReceived = received;
        Release(_units[now]);
    }

    private void Release(PoweredUnit unit, Moment received, long at)
    {
        unit.LastReceived = received;
        Release(unit);
        unit.Release(at);
    }

    private void Release(PoweredUnit unit)
    {
        if (unit.Newest != long.MinValue) unit.Release(unit.Newest - _wait);
    }

    private PoweredUnit UnitOf(VehicleName name, Described described)
    {
        if (_units.TryGetValue(name, out var known)) return known;
        var unit = new PoweredUnit(name, described, _setup, _tell);
        _units.Add(name, unit);
        if (_options.Coupled.TryGetValue(name.Id, out var trailers))
            _couplings.Begin(unit, trailers);
        return unit;
    }

    private Trailer TrailerOf(VehicleName name, Described described)
    {
        if (_trailers.TryGetValue(name, out var known)) return known;
        var trailer = new Trailer(name, described);
        _trailers.Add(name, trailer);
        // One that the operator says is coupled belongs to its vehicle before that is heard of.
        foreach (var (id, trailers) in _options.Coupled)
            if (trailers.Contains(name.Id) && _roster.Find(id) is { } powered) UnitOf(new VehicleName(name.Fleet, id), powered);
        return trailer;
    }
}
