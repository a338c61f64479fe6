using AxleTelemetry.Storage.Sqlite;
using AxleTelemetry.Storage.Writing;

namespace AxleTelemetry.Storage.Keeping;

/// <summary>
/// Goes through the tables in small steps, each a transaction between two batches, and begins again when it is through. It remembers how far
/// it came, so that what is pinned is looked at once per round.
/// </summary>
internal sealed class RetentionSweep
{
    /// <summary>Rows looked at in a step.</summary>
    public const int StepRows = 500;

    private Stage stage;
    private SweepPlace place;

    /// <summary>Begins anew, as after a step that did not commit.</summary>
    public void Restart() => (stage, place) = (Stage.Blocks, SweepPlace.Start);

    public WriteOutcome.Committed Step(Connection connection, RetentionPlan plan)
    {
        while (true)
        {
            var step = stage switch
            {
                Stage.Blocks => InputRetention.Blocks(connection, plan, place),
                Stage.Inputs => InputRetention.Hot(connection, plan, place),
                Stage.Voids => OutputRetention.Voids(connection, plan),
                Stage.History => OutputRetention.History(connection, plan, place),
                Stage.Telling => OutputRetention.Telling(connection, plan),
                var other => throw new InvalidOperationException($"unknown stage {other}"),
            };
            if (step.Next is { } next)
            {
                place = next;
                return new WriteOutcome.Committed(step.Deleted) { More = true };
            }

            var through = stage == Stage.Telling;
            (stage, place) = (through ? Stage.Blocks : stage + 1, SweepPlace.Start);
            if (through || step.Deleted > 0) return new WriteOutcome.Committed(step.Deleted) { More = !through };
        }
    }

    private enum Stage
    {
        Blocks,
        Inputs,
        Voids,
        History,
        Telling,
    }
}

/// <summary>How far a sweep came in its table: two numbers that only the stage understands.</summary>
internal readonly record struct SweepPlace(long Major, long Minor)
{
    public static SweepPlace Start => new(long.MinValue, long.MinValue);
}

/// <summary>What a step took, and where the next begins; no next when the table is through.</summary>
internal readonly record struct SweepStep(long Deleted, SweepPlace? Next);
