using System.Diagnostics;

namespace AxleTelemetry.Service.Tests.Crashing;

/// <summary>Counts from the traces of the processes that were killed, and of the last one, what the kills met.</summary>
internal sealed class KillTally
{
    private readonly long _began = Stopwatch.GetTimestamp();
    private int _kills, _betweenReceiptAndCommit, _betweenCommitAndAcknowledgement, _again;
    private long _committed;

    /// <summary>A process was killed; this was its trace.</summary>
    public void Killed(Kill kill, TraceLog trace)
    {
        _kills++;
        switch (kill)
        {
            case Kill.Received received:
                Assert.DoesNotContain(received.Number, trace.Of("committed"));
                Assert.True(trace.Uncommitted > 0);
                _betweenReceiptAndCommit++;
                break;
            case Kill.Committed committed:
                Assert.DoesNotContain(committed.Number, trace.Of("acknowledged").Concat(trace.Of("dropped")));
                Assert.True(trace.Unacknowledged > 0);
                _betweenCommitAndAcknowledgement++;
                break;
            case Kill.Anywhere:
                break;
            default:
                throw new InvalidOperationException("A kill that nobody handles.");
        }

        Ended(trace);
    }

    /// <summary>A process ended; this was its trace.</summary>
    public void Ended(TraceLog trace)
    {
        _again += trace.Again;
        _committed += trace.Of("committed").Count;
    }

    /// <summary>Fails where the kills did not meet what they were to meet.</summary>
    /// <param name="sent">Messages sent, each different.</param>
    /// <param name="output">Told of the counts.</param>
    public void Hold(int sent, ITestOutputHelper output)
    {
        // Each message is one of those committed; what was committed beyond them had been committed before.
        var duplicates = _committed - sent;
        output.WriteLine(FormattableString.Invariant($"{_kills} kills: {_betweenReceiptAndCommit} between receipt and commit, {_betweenCommitAndAcknowledgement} between commit and acknowledgement, {_kills - _betweenReceiptAndCommit - _betweenCommitAndAcknowledgement} anywhere."));
        output.WriteLine(FormattableString.Invariant($"{sent} messages; {_again} came again, {duplicates} or more of them had been committed before. {Stopwatch.GetElapsedTime(_began).TotalSeconds:0.0} s."));
        Assert.True(_kills >= 20 && _betweenReceiptAndCommit >= 5 && _betweenCommitAndAcknowledgement >= 5);
        Assert.True(duplicates >= _betweenCommitAndAcknowledgement, $"{duplicates} duplicates");
        Assert.True(_again >= duplicates, $"{_again} came again");
    }
}
