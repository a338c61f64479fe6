using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Simulator.Chance;

namespace AxleTelemetry.Domain.Tests.Lanes;

/// <summary>A trailer behind nobody: told where it rolls, by whatever it says of that, and never where it is parked.</summary>
public sealed class LooseTrailerTests
{
    private const long Start = 1_772_432_045_000;

    private readonly SeededRandom _random = new(11);
    private LooseTrailer _trailer = new(1);
    private double _at;
    private Moment? _told;

    [Fact]
    public void One_that_rolls_by_its_own_speed_is_told_after_five_minutes()
    {
        Run(290, noise: 2, speed: 20);
        Assert.Null(_told);
        Run(40, noise: 2, speed: 20);
        Assert.InRange(_told!.Value.UnixMilliseconds, Start, Start + 30_000);
    }

    [Fact]
    public void One_that_tells_no_speed_is_told_by_the_road_that_it_feels()
    {
        Run(360, noise: 2);
        Assert.NotNull(_told);
    }

    [Fact]
    public void Traffic_lights_are_no_stop_and_a_stop_is()
    {
        for (var light = 0; light < 3; light++)
        {
            Run(100, noise: 2, speed: 12);
            Run(60, noise: 0, speed: 0);
        }

        Assert.Null(_told);
        Run(60, noise: 2, speed: 12);
        Assert.NotNull(_told);

        _trailer = new LooseTrailer(1);
        _told = null;
        for (var stop = 0; stop < 4; stop++)
        {
            Run(200, noise: 2, speed: 12);
            Run(240, noise: 0, speed: 0);
        }

        Assert.Null(_told);
    }

    [Theory]
    [InlineData(0.0, null, 0.0)] // parked, and its clock goes on
    [InlineData(0.0, 0.0, 0.0)]
    [InlineData(2.0, 0.0, 0.0)] // shaken in a yard, and says that it stands
    [InlineData(0.8, null, 0.25)] // loaded by a fork-lift truck for an hour
    [InlineData(0.0, 8.0, 0.0)] // on a ferry
    public void One_that_does_not_roll_is_never_told(double noise, double? speed, double growsBy)
    {
        Run(3600, noise, speed, growsBy);
        Assert.Null(_told);
    }

    [Fact]
    public void Without_air_or_without_pressures_nothing_is_told()
    {
        Run(1200, noise: 2, speed: 20, kilopascals: 5);
        Assert.Null(_told);
        for (var i = 0; i < 1200; i++) Take(new Reading(At(++_at), ReadingKind.Position, (ushort)PositionKey.Speed, 20));
        Assert.Null(_told);
    }

    [Fact]
    public void What_comes_late_says_nothing_and_what_is_kept_goes_on()
    {
        Run(250, noise: 2, speed: 20);
        for (var i = 0; i < 200; i++) Take(new Reading(At(_at - 200 + i), ReadingKind.Pressure, 0, 300));
        Assert.Null(_told);
        var writer = new ByteWriter();
        _trailer.Write(writer);
        var reader = new ByteReader(writer.Written);
        _trailer = LooseTrailer.Read(ref reader)!;
        Run(80, noise: 2, speed: 20);
        Assert.NotNull(_told);
        var short1 = new ByteReader(writer.Written[..^1]);
        Assert.Null(LooseTrailer.Read(ref short1));
    }

    private void Run(int seconds, double noise, double? speed = null, double growsBy = 0, double kilopascals = 300)
    {
        for (var i = 0; i < seconds; i++)
        {
            _at++;
            Take(new Reading(At(_at), ReadingKind.Pressure, 0, kilopascals + growsBy * i + _random.Normal(noise)));
            if (speed is { } known) Take(new Reading(At(_at), ReadingKind.Position, (ushort)PositionKey.Speed, known));
        }
    }

    private void Take(Reading reading) => _told = _trailer.Take(reading) ?? _told;

    private static Moment At(double seconds) => new Moment(Start).Plus(seconds);
}
