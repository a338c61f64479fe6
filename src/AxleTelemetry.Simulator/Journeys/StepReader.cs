using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Simulator.Journeys;

/// <summary>Reads the lines of a journey's steps. Each step is one line; what it names must be there.</summary>
internal sealed class StepReader(Combination combination)
{
    private static readonly (string, LiftReason)[] Reasons =
    [
        ("none", LiftReason.None), ("grip", LiftReason.Grip), ("clearance", LiftReason.Clearance), ("workshop", LiftReason.Workshop), ("other", LiftReason.Other),
    ];

    private static readonly (string, LiftReport)[] Lifts =
    [
        ("lowered", LiftReport.Lowered), ("loaded", LiftReport.Loaded), ("unloaded", LiftReport.Unloaded), ("raised", LiftReport.Raised),
        ("moving", LiftReport.Moving), ("unknown", LiftReport.Unknown),
    ];

    public JourneyStep? Read(WordReader words)
    {
        var step = words.OneOf<Func<WordReader, JourneyStep>>(
            ("drive", Drive), ("stop", Stop), ("load", Load), ("empty", Empty), ("lift", Lift), ("mode", Mode), ("ride", Ride), ("ferry", Ferry),
            ("sensor", Sensor), ("unit", Unit), ("wheel-speed", WheelSpeed), ("ambient", Ambient), ("altitude", Altitude))?.Invoke(words);
        words.End();
        return words.Problem is null ? step : null;
    }

    private JourneyStep Drive(WordReader words)
    {
        var metres = words.Metres();
        words.Expect("at");
        var speed = words.MetresPerSecond();
        double grade = 0, off = 0;
        var bends = false;
        while (!words.AtEnd && words.Problem is null)
        {
            if (words.Take("uphill")) grade = words.Fraction();
            else if (words.Take("downhill")) grade = -words.Fraction();
            else if (words.Take("through")) { words.Expect("bends"); bends = true; }
            else { words.Expect("spreading"); off = words.Kilograms(); }
        }

        return new JourneyStep.Drive(Positive(words, metres), Positive(words, speed), grade, bends, off);
    }

    private JourneyStep Stop(WordReader words) => new JourneyStep.Stand(Positive(words, words.Seconds()));

    private JourneyStep Ferry(WordReader words)
    {
        var seconds = Positive(words, words.Seconds());
        words.Expect("at");
        return new JourneyStep.Carry(seconds, words.MetresPerSecond());
    }

    private JourneyStep Load(WordReader words)
    {
        var kilograms = words.Kilograms();
        words.Expect("at");
        var centre = words.Metres();
        return Loading(words, kilograms, centre);
    }

    private JourneyStep Empty(WordReader words) => Loading(words, 0, 0);

    private JourneyStep.Load Loading(WordReader words, double kilograms, double centre)
    {
        var body = words.Take("on") ? Body(words) : OnlyLoadSpace(words);
        var seconds = words.Take("in") ? words.Seconds() : 0;
        return new JourneyStep.Load(body, kilograms, centre, seconds);
    }

    private JourneyStep Lift(WordReader words)
    {
        var axle = Axle(words);
        var said = words.Take("says");
        var done = !said && words.Take("really");
        var to = words.OneOf<LiftReport>(Lifts);
        return new JourneyStep.Lift(axle, to, Said: !done, Done: !said, words.Take("for") ? words.OneOf<LiftReason>(Reasons) : LiftReason.Unsaid);
    }

    private JourneyStep Mode(WordReader words)
    {
        var name = words.Word("The name of a mode");
        var body = words.Take("on") ? Body(words) : 0;
        var modes = combination.Vehicles[body].Modes;
        for (var i = 0; i < modes.Length; i++)
            if (modes[i].Name == name)
                return new JourneyStep.Mode(body, i);
        words.Refuse($"'{combination.Vehicles[body].Id}' has no mode '{name}'; it has {string.Join(", ", modes.Select(m => m.Name))}.");
        return new JourneyStep.Mode(body, 0);
    }

    private JourneyStep Ride(WordReader words)
    {
        var height = words.OneOf(("normal", RideHeight.Normal), ("off", RideHeight.Off), ("dumped", RideHeight.Dumped));
        var said = !words.Take("unreported");
        return new JourneyStep.Ride(words.Take("on") ? Body(words) : 0, height, said);
    }

    private JourneyStep Sensor(WordReader words)
    {
        var sensor = SensorOf(words);
        return new JourneyStep.Fault(sensor, words.OneOf<Func<SensorFault>>(
            ("right", () => new SensorFault.None()),
            ("stuck", () => new SensorFault.Stuck(words.Take("at") ? words.Kilopascals() : null)),
            ("drifts", () => { var perMinute = words.Kilopascals(); words.Expect("a-minute"); return new SensorFault.Drift(perMinute); }),
            ("steps", () => new SensorFault.Step(words.Kilopascals())),
            ("dead", () => new SensorFault.Dead()),
            ("crown", () => new SensorFault.Crown(words.Fraction())))?.Invoke() ?? new SensorFault.None());
    }

    private JourneyStep Unit(WordReader words) => new JourneyStep.Report(Reported.Everything, words.OneOf(("on", true), ("off", false)));

    private JourneyStep WheelSpeed(WordReader words) =>
        new JourneyStep.Report(Reported.WheelSpeed, words.OneOf(("reported", true), ("unreported", false)));

    private JourneyStep Ambient(WordReader words)
    {
        var celsius = words.Number("A temperature");
        words.Expect("C");
        return new JourneyStep.Ambient(celsius);
    }

    private JourneyStep Altitude(WordReader words) => new JourneyStep.Altitude(words.Metres());

    public int SensorOf(WordReader words) =>
        One(words, "sensor", combination.Sensors.Select(s => (s.Body, s.Sensor.Key)), words.Word("The name of a sensor"));

    private int Axle(WordReader words) =>
        One(words, "axle", combination.Axles.Select(a => (a.Body, a.Axle.Key)), words.Word("The name of an axle"));

    private int Body(WordReader words) => One(words, "vehicle", combination.Vehicles.Select((v, i) => (i, v.Id)), words.Word("The name of a vehicle"));

    /// <summary>Finds what a name stands for, alone or behind its vehicle's: <c>drive</c> or <c>TR-04/drive</c>.</summary>
    private int One(WordReader words, string what, IEnumerable<(int Body, string Key)> known, string name)
    {
        var all = known.ToList();
        var found = Enumerable.Range(0, all.Count)
            .Where(i => all[i].Key == name || $"{combination.Vehicles[all[i].Body].Id}/{all[i].Key}" == name).ToList();
        if (found.Count == 1) return found[0];
        words.Refuse(found.Count == 0
            ? $"No {what} '{name}'; there is {string.Join(", ", all.Select(k => k.Key))}."
            : $"More than one {what} '{name}': write the vehicle before it, as in {combination.Vehicles[all[found[0]].Body].Id}/{name}.");
        return 0;
    }

    private int OnlyLoadSpace(WordReader words)
    {
        var spaces = combination.Bodies.Where(b => b.StateIndex >= 0).ToList();
        if (spaces.Count == 1) return spaces[0].Index;
        words.Refuse(spaces.Count == 0 ? "No vehicle carries a load." : $"Say on which vehicle: {string.Join(", ", spaces.Select(b => b.Vehicle.Id))}.");
        return 0;
    }

    private static double Positive(WordReader words, double value)
    {
        if (value <= 0) words.Refuse("It must be more than zero.");
        return value;
    }
}
