using AxleTelemetry.Service.Receiving;

namespace AxleTelemetry.Service.Tests.Receiving;

public class IntakeTests
{
    private readonly ManualClock _clock = new();
    private readonly List<TraceEvent> _steps = [];
    private readonly ReceiveTrace _trace;

    public IntakeTests() => _trace = new ReceiveTrace(_steps.Add);

    [Fact]
    public void What_gathered_while_one_batch_commits_is_the_next()
    {
        var intake = new Intake(new IntakeOptions(), _trace, _clock);
        intake.TryTake(Message(1));
        var first = intake.Next(TestContext.Current.CancellationToken)!;
        intake.TryTake(Message(2));
        intake.TryTake(Message(3));
        intake.Committed(first);
        Assert.Equal([2, 3], intake.Next(TestContext.Current.CancellationToken)!.Messages.Select(m => m.Number));
        Assert.Equal([1], first.Messages.Select(m => m.Number));
    }

    [Fact]
    public void A_batch_has_a_most_of_messages_and_of_bytes()
    {
        var intake = new Intake(new IntakeOptions { BatchMessages = 3, BatchBytes = 2 * Message(1).Bytes }, _trace, _clock);
        for (ushort i = 1; i <= 4; i++) intake.TryTake(Message(i));
        intake.TryTake(Message(5, 5000));
        Assert.Equal([2, 2, 1], Enumerable.Range(0, 3).Select(_ => intake.Next(TestContext.Current.CancellationToken)!.Messages.Length));
    }

    [Fact]
    public void Acknowledgements_follow_the_commit_in_the_order_received_and_are_flushed_once_for_each_connection()
    {
        var intake = new Intake(new IntakeOptions(), _trace, _clock);
        var connection = new Recorder(7);
        for (ushort i = 10; i < 15; i++) intake.TryTake(Message(i) with { Acknowledger = connection });
        var batch = intake.Next(TestContext.Current.CancellationToken)!;
        Assert.Empty(connection.Acknowledged);
        intake.Committed(batch);
        Assert.Equal([10, 11, 12, 13, 14], connection.Acknowledged);
        Assert.Equal(1, connection.Flushes);
        Assert.Equal(Enumerable.Repeat(TraceStep.Received, 5).Concat(Enumerable.Repeat(TraceStep.Committed, 5)).Concat(Enumerable.Repeat(TraceStep.Acknowledged, 5)), _steps.Select(s => s.Step));
        Assert.All(_steps, step => Assert.Equal(7, step.Connection));
    }

    [Fact]
    public void Full_it_takes_nothing_until_half_is_committed()
    {
        var intake = new Intake(new IntakeOptions { MostBytes = 4 * Message(1).Bytes, BatchMessages = 1 }, _trace, _clock);
        for (ushort i = 1; i <= 4; i++) Assert.True(intake.TryTake(Message(i)));
        Assert.False(intake.TryTake(Message(5)));
        Assert.IsType<IntakeState.Full>(intake.State);
        intake.Committed(intake.Next(TestContext.Current.CancellationToken)!);
        Assert.False(intake.TryTake(Message(5)));
        intake.Committed(intake.Next(TestContext.Current.CancellationToken)!);
        Assert.True(intake.TryTake(Message(5)));
        Assert.Equal(2, _trace.Refused);
    }

    [Fact]
    public void Commits_that_fail_for_ten_seconds_close_it_and_one_that_works_opens_it()
    {
        var intake = new Intake(new IntakeOptions(), _trace, _clock);
        intake.TryTake(Message(1));
        var batch = intake.Next(TestContext.Current.CancellationToken)!;
        intake.CommitFailed("The disk is full.");
        _clock.Move(TimeSpan.FromSeconds(9.9));
        intake.CommitFailed("The disk is full.");
        Assert.IsType<IntakeState.Taking>(intake.State);
        _clock.Move(TimeSpan.FromSeconds(0.1));
        intake.CommitFailed("The disk is full.");
        Assert.Equal("The journal has taken nothing since 2026-03-02T06:00:00Z: The disk is full. No message is taken until it does.", intake.State.Text);
        Assert.False(intake.TryTake(Message(2)));
        intake.Committed(batch);
        Assert.True(intake.TryTake(Message(2)));
        _clock.Move(TimeSpan.FromSeconds(20));
        intake.CommitFailed("The disk is full.");
        Assert.IsType<IntakeState.Taking>(intake.State);
    }

    [Fact]
    public void At_the_end_what_waits_is_still_handed_out()
    {
        var intake = new Intake(new IntakeOptions { BatchMessages = 1 }, _trace, _clock);
        intake.TryTake(Message(1));
        intake.TryTake(Message(2));
        intake.End();
        Assert.False(intake.TryTake(Message(3)));
        Assert.NotNull(intake.Next(TestContext.Current.CancellationToken));
        Assert.NotNull(intake.Next(TestContext.Current.CancellationToken));
        Assert.Null(intake.Next(TestContext.Current.CancellationToken));
        Assert.Null(intake.Next(TestContext.Current.CancellationToken));
    }

    private static Received Message(ushort id, int bytes = 100) => new() { Topic = "axles/v1/example/RT-01/frame", Payload = new byte[bytes], PacketId = id };

    private sealed class Recorder(long connection) : IAcknowledger
    {
        public List<int> Acknowledged { get; } = [];

        public int Flushes { get; private set; }

        public long Connection => connection;

        public bool Acknowledge(ushort packetId)
        {
            Acknowledged.Add(packetId);
            return true;
        }

        public void Flush() => Flushes++;
    }
}
