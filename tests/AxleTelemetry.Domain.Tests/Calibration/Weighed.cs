using AxleTelemetry.Domain.Calibration;
using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Domain.Tests.Calibration;

/// <summary>Short ways to write tickets and fits in tests.</summary>
internal static class Weighed
{
    public static readonly Mass Unsprung = Mass.FromKilograms(750);

    public static readonly Moment March = new(1_772_432_045_000);

    /// <summary>A 9 t axle with 10 kg per kPa in the handbook; 1.5 % of 9 t is 135 kg.</summary>
    public static readonly HandbookPrior Handbook = HandbookPrior.FromGain(10, Mass.FromKilograms(9000));

    public static Ticket OnPlatform(string weighing, double kilopascals, double axleKilograms) => Ticket.FullPlatform(
        weighing, March, Pressure.FromKilopascals(kilopascals), (Mass.FromKilograms(axleKilograms), Mass.FromKilograms(26_000)));

    public static Ticket OnBridge(string weighing, double kilopascals, double axleKilograms) =>
        Ticket.AxleByAxle(weighing, March, Pressure.FromKilopascals(kilopascals), Mass.FromKilograms(axleKilograms));

    public static CircuitFit Fit(params Ticket[] tickets) =>
        Assert.IsType<Calibrated>(CircuitCalibration.Fit(Handbook, [.. tickets], Unsprung, "test")).Fit;

    public static TicketScreening Screen(params Ticket[] tickets) =>
        TicketScreening.Of(Fit(tickets), Handbook, [.. tickets], Unsprung);
}
