using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Lanes;

/// <summary>A load taken by itself, without a lane: from one settled reading, or as somebody states it.</summary>
/// <param name="Payload">What is believed of the payload.</param>
/// <param name="Known">What is known of the errors.</param>
/// <param name="Present">The configuration, with the axles that a valve holds at their ceiling.</param>
public sealed record LoadInHand(PayloadEstimate Payload, KnownErrors Known, Configuration Present)
{
    // Which axles a valve holds depends on the payload, and the payload on which are held: two looks settle it as a rule.
    private const int MostLooks = 4;

    /// <summary>
    /// From pressures that belong together, settled, on the level, temperature and altitude not known; circuits whose axles
    /// carry nothing are passed over. <c>null</c> where the configuration is not possible with such a load.
    /// </summary>
    public static LoadInHand? FromPressures(LaneSetup setup, Configuration configuration, IReadOnlyList<(int Sensor, Pressure Pressure)> pressures)
    {
        CircuitReading[] readings = [.. pressures.Where(p => Carries(setup, configuration, p.Sensor)).Select(p => Read(setup, p.Sensor, p.Pressure))];
        var estimator = setup.Estimator;
        var (payload, known) = (estimator.NewEstimate(), estimator.NewKnownErrors());
        estimator.BeginLoad(payload);
        // What is expected before anything is read may not stand in this configuration; what is read may.
        if ((setup.Model.MapAt(configuration, payload.State) ?? setup.Model.Map(configuration)) is not { } map) return null;
        for (var look = 0; look < MostLooks; look++)
        {
            estimator.BeginLoad(payload);
            known = estimator.NewKnownErrors();
            MeasuredSplit.Learn(estimator, known, map.Configuration, readings, new double[setup.Combination.Axles.Length], []);
            estimator.Take(payload, known, map, default, readings);
            if (setup.Model.MapAt(configuration, payload.State) is not { } then) return null;
            if (then.Configuration == map.Configuration) break;
            map = then;
        }

        return new LoadInHand(payload, known, map.Configuration);
    }

    /// <summary>
    /// A payload stated for each body that carries, in their order, where its centre is along the body: what is uncertain is
    /// the vehicle alone. <c>null</c> where the configuration is not possible with it.
    /// </summary>
    public static LoadInHand? FromPayload(LaneSetup setup, Configuration configuration, IReadOnlyList<(Mass Mass, Length Centre)> stated)
    {
        var payload = setup.Estimator.NewEstimate();
        for (var i = 0; i < stated.Count; i++)
        {
            payload.State[2 * i] = stated[i].Mass.Kilograms;
            payload.State[2 * i + 1] = stated[i].Mass.Kilograms * stated[i].Centre.Metres;
        }

        return setup.Model.MapAt(configuration, payload.State) is { } map
            ? new LoadInHand(payload, setup.Estimator.NewKnownErrors(), map.Configuration)
            : null;
    }

    /// <summary>True where at least one axle of the circuit carries in a configuration: only then is its pressure a load.</summary>
    public static bool Carries(LaneSetup setup, Configuration configuration, int sensor) =>
        setup.Combination.Sensors[sensor].Axles.Any(axle => configuration[axle] == AxleState.Loaded);

    private static CircuitReading Read(LaneSetup setup, int sensor, Pressure pressure)
    {
        var part = setup.Combination.Sensors[sensor];
        var (referred, sd) = Atmosphere.Refer(part.Sensor, pressure.Kilopascals, default, default);
        var noise = NoiseRule.Variance(default, setup.Combination.Axles[part.Axles[0]].Axle.Rating.Kilograms);
        return new CircuitReading(sensor, referred, noise, sd);
    }
}
