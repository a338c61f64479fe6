using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Domain.Calibration;

/// <summary>
/// One weighing of one circuit: what the bridge said of its reference axle while the sensor said a pressure. Immutable; every number is finite.
/// </summary>
public sealed record Ticket
{
    private Ticket(string weighing, Moment at, Pressure pressure, Mass axleLoad)
    {
        if (axleLoad.Kilograms <= 0)
            throw new ArgumentOutOfRangeException(nameof(axleLoad), axleLoad.Kilograms, "An axle load above zero is needed.");
        (Weighing, At, Pressure, AxleLoad) = (weighing, at, pressure, axleLoad);
    }

    /// <summary>Names the weighing. Tickets of one weighing share the bridge's error, so they do not average it away.</summary>
    public string Weighing { get; }

    /// <summary>When it was weighed.</summary>
    public Moment At { get; }

    /// <summary>Bellows pressure of the circuit at that time.</summary>
    public Pressure Pressure { get; }

    /// <summary>Load of the reference axle on the road, unsprung mass included, above zero.</summary>
    public Mass AxleLoad { get; }

    /// <summary>How it was weighed.</summary>
    public WeighingMethod Method { get; private init; }

    /// <summary>Standard deviation of the weighing itself, kg, above zero.</summary>
    public Mass Deviation { get; private init; }

    /// <summary>What the technician wrote beside it; may be empty.</summary>
    public string Note { get; init; } = "";

    /// <summary>
    /// Whole vehicle on a certified platform, whose error follows the gross. Throws <see cref="ArgumentOutOfRangeException"/> for an axle load
    /// not above zero or a gross below it.
    /// </summary>
    public static Ticket FullPlatform(string weighing, Moment at, Pressure pressure, (Mass Axle, Mass Gross) load)
    {
        if (load.Gross < load.Axle) throw new ArgumentOutOfRangeException(nameof(load), load.Gross.Kilograms, "Gross is at least the axle load.");
        return new(weighing, at, pressure, load.Axle)
        {
            Method = WeighingMethod.FullPlatform,
            Deviation = Mass.FromKilograms(Math.Max(20, 0.001 * load.Gross.Kilograms)),
        };
    }

    /// <summary>Axle by axle on a level static bridge. Throws <see cref="ArgumentOutOfRangeException"/> for an axle load not above zero.</summary>
    public static Ticket AxleByAxle(string weighing, Moment at, Pressure pressure, Mass axleLoad) => new(weighing, at, pressure, axleLoad)
    {
        Method = WeighingMethod.AxleByAxle,
        Deviation = Mass.FromKilograms(0.015 * axleLoad.Kilograms),
    };

    /// <summary>Weighed in motion. Throws <see cref="ArgumentOutOfRangeException"/> for an axle load not above zero.</summary>
    public static Ticket Dynamic(string weighing, Moment at, Pressure pressure, Mass axleLoad) => new(weighing, at, pressure, axleLoad)
    {
        Method = WeighingMethod.Dynamic,
        Deviation = Mass.FromKilograms(0.03 * axleLoad.Kilograms),
    };

    /// <summary>Axle load less the unsprung mass of the axle: what the bellows carry.</summary>
    public Mass SprungLoad(Mass unsprung) => AxleLoad - unsprung;
}
