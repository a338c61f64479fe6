namespace AxleTelemetry.Simulator.Tests.Journeys;

public sealed class JourneyTextTests
{
    private const string Begin = "vehicle rigid-6x2-tag\njourney\n";

    [Theory]
    [InlineData("fly 3 km", "line 3: Unknown word 'fly'; known here: drive, stop, load, empty, lift, mode, ride, ferry, sensor, unit, wheel-speed, ambient, altitude.")]
    [InlineData("drive 12 km at fast km/h", "line 3: A speed: 'fast' is no number.")]
    [InlineData("drive 12 km 70 km/h", "line 3: 'at' expected, not '70'.")]
    [InlineData("drive 12 miles at 70 km/h", "line 3: Unknown word 'miles'; known here: km, m.")]
    [InlineData("drive -1 km at 70 km/h", "line 3: It must be more than zero.")]
    [InlineData("load 9.5 t at", "line 3: A distance is missing.")]
    [InlineData("lift pusher raised", "line 3: No axle 'pusher'; there is steer, drive, tag.")]
    [InlineData("sensor steer stuck", "line 3: No sensor 'steer'; there is drive, tag.")]
    [InlineData("mode sport", "line 3: 'RT-01' has no mode 'sport'; it has normal.")]
    [InlineData("stop 3 min please", "line 3: Nothing expected after this, but there is 'please'.")]
    [InlineData("drive 1 km at 30 km/h\nload 2 t at 4 m", "line 4: The load changes while standing: put a stop before it.")]
    [InlineData("drive 1 km at 30 km/h\nferry 1 h at 30 km/h", "line 4: A ferry is boarded standing: put a stop before it.")]
    public void A_wrong_step_is_named_with_its_line(string steps, string problem) =>
        Assert.Equal([problem], Journey.ProblemsOf(Begin + steps + "\n"));

    [Theory]
    [InlineData("vehicle flying-carpet\njourney\n", "line 1: There is no vehicle 'flying-carpet'.")]
    [InlineData("sensor drive left\njourney\n", "line 1: A vehicle must stand before this line.")]
    [InlineData("vehicle rigid-6x2-tag\nstart monday\njourney\n", "line 2: 'monday' is no time such as 2026-03-02T06:00:00Z.")]
    [InlineData("vehicle semi-tridem-lift-first\njourney\n", "line 0: 'ST-06' does not pull: a rigid or a tractor goes first.")]
    [InlineData("vehicle rigid-6x2-tag\n", "line 0: A line 'journey' is missing, before the first step.")]
    public void A_wrong_beginning_is_named(string text, string problem) => Assert.Equal([problem], Journey.ProblemsOf(text));

    [Fact]
    public void Every_wrong_line_is_told_at_once() =>
        Assert.Equal(3, Journey.ProblemsOf(Begin + "fly\nstop 2 min\nstop\nlift tag sideways\n").Length);

    [Fact]
    public void A_name_that_two_vehicles_share_asks_for_its_vehicle()
    {
        const string begin = "vehicle tractor-4x2\nvehicle semi-tridem-lift-first\njourney\n";
        Assert.Empty(Journey.Read(begin).Steps);
        Assert.Single(Journey.Read(begin + "lift ST-06/trailer-1 raised\n").Steps);
    }
}
