using AxleTelemetry.Domain.Readings;

namespace AxleTelemetry.Simulator.Journeys;

/// <summary>What the unit sends of each moment, as readings: what moves all the time each second, what was said once when it changes.</summary>
public static class JourneyReadings
{
    /// <summary>The readings in their order: moment, stream, body, key.</summary>
    public static IEnumerable<(int Body, Reading Reading)> Of(JourneyScript script, IEnumerable<JourneyMoment> moments)
    {
        var said = new Statements();
        foreach (var moment in moments)
        {
            if (!moment.Heard) continue;
            foreach (var reading in Pressures(script, moment)) yield return reading;
            foreach (var axle in script.Combination.Axles)
                if (moment.Lifts[axle.Index] is { } lift && said.IsNews((ReadingKind.Lift, axle.Body, axle.Index), Word(lift, moment.Reasons[axle.Index])))
                    yield return (axle.Body, new Reading(moment.At, ReadingKind.Lift, (ushort)(axle.Index - script.Combination.Bodies[axle.Body].FirstAxle), Word(lift, moment.Reasons[axle.Index])));
            for (var body = 0; body < moment.Reports.Length; body++)
                foreach (var (key, value) in Conditions(moment.Reports[body]))
                    if (key == ConditionKey.WheelSpeed || said.IsNews((ReadingKind.Condition, body, (int)key), value))
                        yield return (body, new Reading(moment.At, ReadingKind.Condition, (ushort)key, value));
            foreach (var (key, value) in Position(moment.Position))
                yield return (0, new Reading(moment.At, ReadingKind.Position, (ushort)key, value));
        }
    }

    private static double Word(LiftReport lift, LiftReason reason) => new LiftWord(lift, reason == LiftReason.Unsaid ? LiftBy.Unsaid : LiftBy.Driver, reason).ToValue();

    private static IEnumerable<(int, Reading)> Pressures(JourneyScript script, JourneyMoment moment)
    {
        foreach (var part in script.Combination.Sensors)
            if (moment.Pressures[part.Index] is { } pressure)
                yield return (part.Body, new Reading(moment.At, ReadingKind.Pressure, (ushort)(part.Index - script.Combination.Bodies[part.Body].FirstSensor), pressure));
    }

    private static IEnumerable<(ConditionKey, double)> Conditions(SelfReport report)
    {
        yield return (ConditionKey.RideHeight, Flag(report.RideOff));
        yield return (ConditionKey.SuspensionMode, report.Mode);
        yield return (ConditionKey.ServiceBrake, Flag(report.ServiceBrake));
        yield return (ConditionKey.ParkingBrake, Flag(report.ParkingBrake));
        yield return (ConditionKey.PowerTakeOff, Flag(report.PowerTakeOff));
        if (report.WheelSpeed is { } speed) yield return (ConditionKey.WheelSpeed, speed);
        if (report.Ambient is { } ambient) yield return (ConditionKey.Ambient, ambient);
    }

    private static IEnumerable<(PositionKey, double)> Position(PositionReport report) =>
    [
        (PositionKey.Latitude, report.Latitude), (PositionKey.Longitude, report.Longitude), (PositionKey.Altitude, report.Altitude),
        (PositionKey.Heading, report.Heading), (PositionKey.Speed, report.Speed),
    ];

    private static double Flag(bool value) => value ? 1 : 0;

    /// <summary>What was last said of each thing.</summary>
    private sealed class Statements
    {
        private readonly Dictionary<(ReadingKind, int, int), double> _last = [];

        public bool IsNews((ReadingKind, int, int) thing, double value)
        {
            if (_last.TryGetValue(thing, out var before) && before == value) return false;
            _last[thing] = value;
            return true;
        }
    }
}
