using AxleTelemetry.Domain.Findings;

namespace AxleTelemetry.Domain.Tests.Findings;

public sealed class EpisodeTrackerTests
{
    private EpisodeState _state;
    private double _metres;
    private long _at;

    [Fact]
    public void One_reading_opens_nothing() => Assert.Equal(EpisodeChange.None, After(3.0));

    [Fact]
    public void Two_readings_within_a_kilometre_open_nothing()
    {
        After(3.0);
        Assert.Equal(EpisodeChange.None, After(3.0, metres: 999));
    }

    [Fact]
    public void Two_readings_over_a_kilometre_open_at_the_level_they_hold()
    {
        After(3.0);
        Assert.Equal(EpisodeChange.Opened, After(3.0));
        Assert.Equal(Level.Surely, _state.Level);
    }

    [Fact]
    public void It_began_with_the_first_reading_that_held()
    {
        After(-1);
        After(1.2);
        After(1.2);
        Assert.Equal(2_000, _state.OpenSince);
    }

    [Fact]
    public void Likely_rises_when_sure_has_held_as_long()
    {
        After(1.2);
        Assert.Equal(EpisodeChange.Opened, After(1.2));
        Assert.Equal(EpisodeChange.None, After(2.5));
        Assert.Equal(EpisodeChange.Rose, After(2.5));
    }

    [Theory]
    [InlineData(1.0, EpisodeChange.None, Level.Surely)]
    [InlineData(0.99, EpisodeChange.Fell, Level.Likely)]
    [InlineData(0.0, EpisodeChange.Fell, Level.Likely)]
    [InlineData(-0.01, EpisodeChange.Closed, Level.Clear)]
    public void A_sure_one_is_left_at_less_than_it_was_entered_at(double deviations, EpisodeChange change, Level level)
    {
        After(3.0);
        After(3.0);
        Assert.Equal(change, After(deviations));
        Assert.Equal(level, _state.Level);
    }

    [Fact]
    public void A_reading_between_starts_the_count_anew()
    {
        After(1.2);
        After(0.5);
        Assert.Equal(EpisodeChange.None, After(1.2));
        Assert.Equal(EpisodeChange.Opened, After(1.2));
    }

    [Fact]
    public void What_is_capped_never_becomes_sure()
    {
        for (var i = 0; i < 10; i++) After(5.0, cap: Level.Likely);
        Assert.Equal(Level.Likely, _state.Level);
    }

    [Fact]
    public void A_forgotten_count_does_not_close_what_is_open()
    {
        After(3.0);
        After(3.0);
        EpisodeTracker.Forget(ref _state);
        Assert.Equal(EpisodeChange.None, After(3.0));
        Assert.Equal(Level.Surely, _state.Level);
    }

    private EpisodeChange After(double deviations, double metres = 1_000, Level cap = Level.Surely)
    {
        _metres += metres;
        _at += 1_000;
        return EpisodeTracker.Take(ref _state, deviations, cap, _at, _metres);
    }
}
