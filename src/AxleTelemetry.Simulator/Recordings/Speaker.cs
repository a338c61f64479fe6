using System.Text.Json;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Messages.Topics;
using AxleTelemetry.Simulator.Journeys;

namespace AxleTelemetry.Simulator.Recordings;

/// <summary>What one body of a stretch tells its device, moment by moment.</summary>
internal sealed class Speaker(JourneyScript script, BodyPart body, FleetUnit unit)
{
    // Streams sent apart are sampled one after another within a second.
    private const double LiftAfter = 0.11, ConditionAfter = 0.23, PositionAfter = 0.37;

    private readonly Dictionary<int, LiftReport> _said = [];
    private SelfReport? _reported;
    private PositionReport? _begun;
    private PositionReport _last;
    private int _second;

    public void Say(JourneyMoment moment)
    {
        _begun ??= moment.Position;
        _last = moment.Position;
        if (!moment.Heard || _second++ % unit.Device.Habits.EverySeconds != 0) return;
        if (unit.Device.RestartedBy(moment.At)) Forget();
        if (unit.Device.Habits.Frames) Together(moment);
        else Apart(moment);
    }

    /// <summary>The stretch is over; the vehicle stays where it is.</summary>
    public void End() => unit.Stay(_begun!.Value, _last);

    private void Forget()
    {
        _said.Clear();
        _reported = null;
    }

    private void Together(JourneyMoment moment) => unit.Device.Add(UpStream.Frame, moment.At, json =>
    {
        Pressures(json, moment);
        Lifts(json, moment);
        Conditions(json, moment);
        Position(json, moment);
    });

    private void Apart(JourneyMoment moment)
    {
        unit.Device.Add(UpStream.Pressure, moment.At, json => Pressures(json, moment));
        unit.Device.Add(UpStream.Lift, moment.At.Plus(LiftAfter), json => Lifts(json, moment));
        unit.Device.Add(UpStream.Condition, moment.At.Plus(ConditionAfter), json => Conditions(json, moment));
        unit.Device.Add(UpStream.Position, moment.At.Plus(PositionAfter), json => Position(json, moment));
    }

    private void Pressures(Utf8JsonWriter json, JourneyMoment moment) => FrameSample.Pressures(json, script, body, moment);

    private void Lifts(Utf8JsonWriter json, JourneyMoment moment) => FrameSample.Axles(json, body, moment, _said);

    private void Conditions(Utf8JsonWriter json, JourneyMoment moment)
    {
        var report = moment.Reports[body.Index] with { WheelSpeed = null };
        if (body.Index > 0 && _reported is null && report == default) return;
        FrameSample.News(json, body, _reported, report);
        _reported = report;
        if (moment.Reports[body.Index].WheelSpeed is { } wheels) json.WriteNumber("wheel_speed_mps", wheels);
    }

    private void Position(Utf8JsonWriter json, JourneyMoment moment)
    {
        if (body.Index == 0) FrameSample.Position(json, unit.Place(moment.Position));
    }
}
