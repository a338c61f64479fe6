using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Grip;

/// <summary>
/// Loads that decide on what grade a combination can move off. Grip: mu R_drive(tau, X) cos(grade) >= gross (sin(grade) + RRC cos(grade)), as tyres roll under
/// what presses on the road. Divided by the cosine everything is linear in the grade as the trade states it, rise over run, so the steepest one follows at once.
/// </summary>
/// <param name="Drive">Load on the loaded driving axles on the level with the trailers' rolling resistance pulling, kg.</param>
/// <param name="DrivePerGrade">Its change per unit of grade, kg: weight shifts rearward and the trailers pull.</param>
/// <param name="Steer">Load on the front axles of the powered unit, likewise, kg.</param>
/// <param name="SteerPerGrade">Its change per unit of grade, kg.</param>
/// <param name="Gross">All that stands on the road, kg.</param>
/// <param name="RollingResistance">Coefficient of rolling resistance over all tyres as stated for them.</param>
public sealed record MovingOff(double Drive, double DrivePerGrade, double Steer, double SteerPerGrade, double Gross, double RollingResistance)
{
    /// <summary>Takes the loads of a configuration; axles held at a valve's ceiling stay held.</summary>
    public static MovingOff Of(Combination combination, LoadMap map, ReadOnlySpan<double> state)
    {
        double drive = 0, driveSlope = 0, steer = 0, steerSlope = 0, gross = 0, rolling = 0;
        foreach (var part in combination.Axles)
        {
            var level = map.Load(part.Index, state);
            gross += level;
            rolling += level * part.Axle.Tyres.RollingResistance / 1000;
            var (load, slope) = Rolling(map, part.Index, state);
            if (Drives(part, map.Configuration)) (drive, driveSlope) = (drive + load, driveSlope + slope);
            if (IsFront(combination, part)) (steer, steerSlope) = (steer + load, steerSlope + slope);
        }

        return new(drive, driveSlope, steer, steerSlope, gross, gross > 0 ? rolling / gross : 0);
    }

    /// <summary>The steepest grade, rise over run; what ends it. Below zero: not even on the level.</summary>
    /// <param name="friction">Greatest pull over load of a driven tyre.</param>
    public GradeReach Steepest(double friction)
    {
        var gain = Gross - friction * DrivePerGrade;
        var grip = gain > 0 ? (friction * Drive - Gross * RollingResistance) / gain : double.PositiveInfinity;
        var lift = SteerPerGrade < 0 ? -Steer / SteerPerGrade : double.PositiveInfinity;
        return grip <= lift ? new(grip, GradeEnd.Grip, SteerOn(grip)) : new(lift, GradeEnd.FrontLifts, 0);
    }

    /// <summary>
    /// What the driving axle may carry for a moment with an axle raised or relieved, below 30 km/h: its limit and the fraction that the maker of the
    /// lift states. <c>null</c> where none is stated.
    /// </summary>
    public static Mass? Aid(Axle lifting, Mass limit) =>
        lifting.Lift is { MovingOffAid: > 0 } lift ? MovingOffAid.Ceiling(limit, lift.MovingOffAid) : null;

    private double SteerOn(double grade) => Steer + SteerPerGrade * grade;

    private static bool Drives(AxlePart part, Configuration configuration) =>
        part.Axle.Role == AxleRole.Drive && configuration[part.Index] == AxleState.Loaded;

    private static bool IsFront(Combination combination, AxlePart part) =>
        part.Body == 0 && combination.Vehicles[0].Front!.Axles.Contains(part.Index);

    private static (double Load, double Slope) Rolling(LoadMap map, int row, ReadOnlySpan<double> state)
    {
        Span<double> coefficients = stackalloc double[map.Width];
        map.Measured(row, new Motion(0, 0, true), coefficients);
        return (LoadMap.Value(coefficients, state), map.Feels(row, state).PerSlope);
    }
}

/// <summary>How steep a grade may be.</summary>
/// <param name="Grade">Rise over run.</param>
/// <param name="End">What ends it.</param>
/// <param name="Steer">Load left on the front axles there, kg.</param>
public readonly record struct GradeReach(double Grade, GradeEnd End, double Steer);

/// <summary>What ends a grade that can be moved off on.</summary>
public enum GradeEnd
{
    /// <summary>The driven tyres spin.</summary>
    Grip,

    /// <summary>The front axles leave the road.</summary>
    FrontLifts,
}
