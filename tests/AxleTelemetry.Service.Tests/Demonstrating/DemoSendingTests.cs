using System.Collections.Concurrent;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Service.Demonstrating;
using AxleTelemetry.Service.Tests.Simulating;
using AxleTelemetry.Simulator.Days;

namespace AxleTelemetry.Service.Tests.Demonstrating;

public sealed class DemoSendingTests
{
    private const ulong Seed = 20261125;

    private static readonly DateTimeOffset Start = new(2026, 11, 25, 2, 30, 0, TimeSpan.Zero);

    [Fact]
    public async Task Every_device_gets_its_messages_in_order_none_ahead_of_the_clock_and_the_truth_beside_them()
    {
        var clock = new LeapingClock(Start);
        var pace = new DemoPace(clock);
        var days = DemoFleet.Draw(Seed, 2, pace).Play(0, 1).ToList();
        var came = new ConcurrentDictionary<string, List<(SentMessage Message, DateTimeOffset At)>>();
        var told = new List<DemoProgress>();
        using var truth = new MemoryStream();
        var sending = new DemoSending(pace, vehicle =>
        {
            var mine = came[vehicle] = [];
            return message =>
            {
                mine.Add((message, clock.GetUtcNow()));
                return Task.CompletedTask;
            };
        }, told.Add) { Truth = truth };
        await sending.RunAsync(days, TestContext.Current.CancellationToken);

        var sent = days.OfType<DayOutput.Sent>().Select(d => d.Message).ToList();
        foreach (var (vehicle, messages) in came)
            Assert.Equal(sent.Where(m => m.Topic.Split('/')[3] == vehicle), messages.Select(m => m.Message));
        Assert.Equal(sent.Count, came.Values.Sum(m => m.Count));
        Assert.All(came.Values.SelectMany(m => m), m => Assert.True(m.At.ToUnixTimeMilliseconds() >= m.Message.SentAt.UnixMilliseconds, $"seed {Seed}: {m.Message.SentAt} at {m.At}"));
        Assert.Equal(days.Count(d => d is DayOutput.True), System.Text.Encoding.UTF8.GetString(truth.ToArray()).Count(c => c == '\n'));
        Assert.Equal(sent.Count(m => m.SentAt < pace.StoredUntil), Assert.Single(told.OfType<DemoProgress.Followed>()).Messages);
        Assert.IsType<DemoProgress.Met>(told[^1]);
    }

    [Fact]
    public async Task The_last_hour_waits_until_everything_stored_is_acknowledged()
    {
        var pace = new DemoPace(new LeapingClock(Start));
        var gate = new TaskCompletionSource();
        var told = new List<DemoProgress>();
        var days = new DayOutput[] { Sent(pace.DayBegins.Plus(1), "A-1"), Sent(pace.StoredUntil.Plus(1), "B-1") };
        var running = new DemoSending(pace, vehicle => _ => vehicle == "A-1" ? gate.Task : Task.CompletedTask, told.Add).RunAsync(days, TestContext.Current.CancellationToken);
        Assert.False(pace.Follows);
        Assert.Empty(told);
        gate.SetResult();
        await running;
        Assert.Equal(1, Assert.Single(told.OfType<DemoProgress.Followed>()).Messages);
    }

    [Fact]
    public void No_sample_of_the_demonstration_bears_a_time_ahead_of_its_sending()
    {
        var pace = new DemoPace(new LeapingClock(Start));
        var fleet = DemoFleet.Draw(Seed, 7, pace);
        Assert.DoesNotContain(fleet.Plan.Faults.Keys, kind => kind.ToString().Contains("Clock", StringComparison.Ordinal));
        Assert.All(fleet.Play(0, 1), d => Assert.InRange(d.At.SecondsSince(pace.DayBegins), 0, 86_400));
    }

    private static DayOutput.Sent Sent(Moment at, string vehicle) => new(new SentMessage(at, $"axles/v1/f/{vehicle}/frame", new byte[] { 1 }));
}
