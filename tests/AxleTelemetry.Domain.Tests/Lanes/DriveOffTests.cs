using AxleTelemetry.Domain.Lanes;

namespace AxleTelemetry.Domain.Tests.Lanes;

/// <summary>Wheel speed and position are sampled a moment apart: at a drive-off the wheels seem to stand while the ground passes.</summary>
public sealed class DriveOffTests
{
    [Fact]
    public void A_vehicle_that_drives_off_is_not_carried()
    {
        var motion = default(MotionState);
        for (var second = 0; second <= 30; second++)
        {
            MotionTracker.TakeWheelSpeed(ref motion, 1000 * second + 1, Math.Max(0, second - 11));
            MotionTracker.TakeSpeed(ref motion, 1000 * second + 900, Math.Max(0, second - 10));
            Assert.NotEqual(Movement.Carried, MotionTracker.Now(motion, 1000 * second + 950));
        }

        Assert.Equal(Movement.Rolling, MotionTracker.Now(motion, 31_000));
    }

    [Fact]
    public void Wheels_that_stand_for_long_while_the_ground_passes_are_carried_and_roll_no_metres()
    {
        var motion = default(MotionState);
        for (var second = 0; second <= 60; second++)
        {
            MotionTracker.TakeWheelSpeed(ref motion, 1000 * second + 1, 0);
            MotionTracker.TakeSpeed(ref motion, 1000 * second + 900, second < 10 ? 0 : 8);
            Assert.Equal(second >= 25 ? Movement.Carried : Movement.Standing, MotionTracker.Now(motion, 1000 * second + 901));
        }

        Assert.True(motion.Metres <= 8);
    }
}
