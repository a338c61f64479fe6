using AxleTelemetry.Domain.Findings;

namespace AxleTelemetry.Domain.Wording;

/// <summary>Findings about lifts and instruments, in words.</summary>
internal sealed class InstrumentSentences(Names names)
{
    /// <summary>A finding that concerns no limit.</summary>
    public string Of(FindingKey key, FindingDetail detail) => key.Kind switch
    {
        FindingKind.AutomaticLoweringDidNotAct => DidNotAct(names.Axle(key.Element), detail),
        FindingKind.MovingOffAid =>
            $"Moving off with {names.Axle(key.Element)} relieved or raised: the driving axle carries more for a moment, within what its maker allows.",
        FindingKind.AxleRelieved =>
            $"{Names.Begin(names.Axle(key.Element))} is said to carry, but its bellows are relieved. Look at the lift and its switch.",
        FindingKind.LiftDisputed =>
            $"{Names.Begin(names.Axle(key.Element))} is said to be raised, but its bellows hold pressure{Of(detail)} and feel the road: it counts as down. Look at the lift switch.",
        FindingKind.PressureStep =>
            $"{Names.Begin(names.Sensor(key.Element))} stepped{By(detail)} while rolling, without a lift: that cannot be load. Look at the sensor, the circuit and the lift switch.",
        FindingKind.SensorDrifts =>
            $"{Names.Begin(names.Sensor(key.Element))} has drifted{By(detail)} from the load while rolling: that cannot be load. Look at the sensor and the circuit; its readings are not used meanwhile.",
        FindingKind.SensorSilent =>
            $"{Names.Begin(names.Sensor(key.Element))} says nothing while the vehicle is heard and rolls. Look at the sensor and its wiring. Its axles are known only from what else is measured.",
        FindingKind.SensorStill =>
            $"{Names.Begin(names.Sensor(key.Element))} shows no road noise while the vehicle rolls: it is stuck, or its line is blocked. Its readings are not used.",
        FindingKind.SplitDeparts =>
            $"The axles of {names.Vehicle(key.Element)} share otherwise than declared{Points(detail)}. Look at bellows, levelling valve and sensors.",
        FindingKind.SuspensionOff =>
            $"{names.Vehicle(key.Element)} is not at driving height, or has no air in its bellows. No loads are given.",
        FindingKind.Carried =>
            "The vehicle is carried (ferry, train, recovery), or its sensors are stuck. No distance, load or cost is counted.",
        FindingKind.NotPossible =>
            "What is reported cannot be: no axle would carry one end of a vehicle, or a suspension would have to pull. No loads are given. Look at the lift switches.",
        FindingKind.PayloadImplausible =>
            $"The payload of {names.Vehicle(key.Element)} comes out{At(detail)}: an error of zero, another trailer, or a wrong description. Look before trusting its loads.",
        FindingKind.Overload or FindingKind.CannotTell or FindingKind.LoweredForNothing or FindingKind.RaisedForNothing or FindingKind.OverAcrossBorder or FindingKind.CountryUndecided or FindingKind.TrailerClaimedTwice or FindingKind.TrailerUndescribed or FindingKind.TrailerUnclaimed =>
            throw new ArgumentOutOfRangeException(nameof(key), key.Kind, "Said elsewhere."),
        _ => throw new ArgumentOutOfRangeException(nameof(key), key.Kind, "Unknown finding."),
    };

    private static string DidNotAct(string axle, FindingDetail detail)
    {
        var stayed = $"{Names.Begin(axle)} stayed up above 30 km/h with a limit surely passed.";
        if (detail is not FindingDetail.DidNotAct odds) return stayed;
        return $"{stayed} The automatic lowering did not act ({Amount.WholePercent(odds.Mechanism)}), the loads are estimated too high ({Amount.WholePercent(odds.Calibration)}), "
            + $"or the axle is not up as reported ({Amount.WholePercent(odds.LiftState)}). Look at the lift, then at the calibration.";
    }

    private static string By(FindingDetail detail) => detail is FindingDetail.Measured step ? $" by {Amount.Tonnes(Math.Abs(step.Value))}" : "";

    private static string Of(FindingDetail detail) => detail is FindingDetail.Measured held ? FormattableString.Invariant($" ({held.Value:0} kPa)") : "";

    private static string At(FindingDetail detail) => detail is FindingDetail.Measured payload ? $" at {Amount.Tonnes(payload.Value)}" : " implausible";

    private static string Points(FindingDetail detail) =>
        detail is FindingDetail.Measured split ? FormattableString.Invariant($", by {split.Value:0} points") : "";
}
