using AxleTelemetry.Domain.Telling;
using AxleTelemetry.Domain.Wording;

namespace AxleTelemetry.Domain.Tests.Telling;

/// <summary>A vehicle that is silent longer than its habit.</summary>
public sealed class SilenceTests
{
    private const double Day = 60 * 24;

    private readonly Desk _desk = new();

    [Fact]
    public void Nights_become_a_habit_and_a_longer_silence_is_told_and_ends_when_it_is_heard()
    {
        Drive(days: 6);
        var last = 5 * Day + 18 * 60;
        Assert.Equal(TimeSpan.FromHours(12), _desk.Book.Vehicles[Desk.Truck].Hearing.Usual);
        Assert.Empty(_desk.Tick(last + 15 * 60).Changes);
        var told = Assert.Single(_desk.Tick(last + 15 * 60 + 1).Changes);
        Assert.Equal(AlertSubject.VehicleSilent, told.Id.Subject);
        Assert.Equal(Desk.Min(last), told.Id.Since);
        Assert.Empty(_desk.Tick(last + 20 * 60).Changes);
        Assert.IsType<AlertCause.Returned>(Assert.Single(_desk.Hear(last + 21 * 60).Changes).Cause);
    }

    [Fact]
    public void One_breakdown_does_not_change_the_habit()
    {
        Drive(days: 6);
        _desk.Hear(9 * Day);
        Assert.Equal(TimeSpan.FromHours(12), _desk.Book.Vehicles[Desk.Truck].Hearing.Usual);
    }

    [Fact]
    public void A_vehicle_nobody_knows_yet_is_given_a_day()
    {
        _desk.Hear(0);
        Assert.Empty(_desk.Tick(Day).Changes);
        Assert.Single(_desk.Tick(Day + 2 * 60 + 1).Changes);
    }

    [Fact]
    public void A_correction_of_the_history_leaves_a_silence_alone()
    {
        _desk.Hear(0);
        _desk.Tick(Day * 2);
        Assert.Empty(_desk.Correct(Day * 2 + 1, 0).Changes);
        Assert.True(_desk.Only.Holds);
    }

    [Fact]
    public void It_is_said_in_a_sentence() => Assert.Equal(
        "RT-1 has not been heard for 16 h 5 min. Its longest usual silence is 12 h 0 min. Look at its unit and its coverage.",
        AlertSentences.Silent(Desk.Truck, TimeSpan.FromMinutes(965), TimeSpan.FromHours(12)));

    private void Drive(int days)
    {
        for (var day = 0; day < days; day++)
            for (var hour = 6; hour <= 18; hour++) _desk.Hear(day * Day + hour * 60);
    }
}
