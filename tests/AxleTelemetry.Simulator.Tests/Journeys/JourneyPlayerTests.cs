using AxleTelemetry.Simulator.Journeys;

namespace AxleTelemetry.Simulator.Tests.Journeys;

public sealed class JourneyPlayerTests
{
    private const string Begin = "vehicle rigid-6x2-tag\nseed 5\njourney\nload 6 t at 4.3 m\nstop 1 min\n";

    [Fact]
    public void The_same_seed_gives_the_same_readings()
    {
        var script = Journey.Read(Begin + "drive 4 km at 60 km/h\nstop 1 min\n");
        var once = JourneyReadings.Of(script, JourneyPlayer.Play(script));
        var again = JourneyReadings.Of(script, JourneyPlayer.Play(script));
        Assert.Equal(once, again);
        Assert.NotEqual(once, JourneyReadings.Of(script, JourneyPlayer.Play(script with { Seed = 6 })));
    }

    [Fact]
    public void A_drive_covers_its_distance_and_ends_standing()
    {
        var script = Journey.Read(Begin + "drive 4 km at 60 km/h\nstop 1 min\n");
        var last = JourneyPlayer.Play(script).Last();
        Assert.InRange(last.Odometer, 3980, 4020);
        Assert.Equal(0, last.Speed);
    }

    [Fact]
    public void It_rolls_on_from_one_drive_into_the_next()
    {
        var script = Journey.Read(Begin + "drive 2 km at 60 km/h\nlift tag raised\ndrive 2 km at 60 km/h\n");
        var moments = JourneyPlayer.Play(script).Where(m => m.Odometer is > 1000 and < 3000);
        Assert.All(moments, m => Assert.InRange(m.Speed, 15, 18));
    }

    [Fact]
    public void Road_noise_is_there_on_the_road_and_gone_at_rest_and_aboard_a_ferry()
    {
        var script = Journey.Read(Begin + "drive 4 km at 70 km/h\nstop 1 min\nferry 10 min at 30 km/h\n");
        var moments = JourneyPlayer.Play(script).ToList();
        Assert.InRange(Roughness(moments.Where(m => m.Odometer is > 1500 and < 3000)), 2, 5);
        Assert.InRange(Roughness(moments.TakeLast(400)), 0.01, 0.1);
        Assert.Equal(moments[^1].Odometer, moments[^300].Odometer);
        Assert.NotEqual(moments[^1].Position.Latitude, moments[^300].Position.Latitude);
    }

    [Fact]
    public void Nothing_is_heard_while_the_unit_is_off()
    {
        var script = Journey.Read(Begin + "unit off\nstop 10 min\nunit on\nstop 1 min\n");
        var seconds = JourneyReadings.Of(script, JourneyPlayer.Play(script)).Select(r => r.Reading.At).Distinct().Count();
        Assert.Equal(120, seconds);
    }

    private static double Roughness(IEnumerable<JourneyMoment> moments)
    {
        var pressures = moments.Select(m => m.Pressures[0]!.Value).ToList();
        return Math.Sqrt(pressures.Skip(1).Zip(pressures, (b, a) => (b - a) * (b - a)).Average() / 2);
    }
}
