using System.Collections.Immutable;
using System.Diagnostics;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Storage;
using AxleTelemetry.Storage.Rows;
using AxleTelemetry.Storage.Writing;

namespace AxleTelemetry.Benchmarks.Storage;

/// <summary>
/// What carrying history costs the thread of a shard, for each round beside a batch of 100 messages: a claim and a cursor in a commit each, and both in one.
/// Medians of single rounds, as the disk is shared; the processor time is that of all of them. The ways take turns, so that what else goes on meets all alike.
/// </summary>
internal static class CursorCost
{
    private const int Rounds = 2_000, Warm = 200, Messages = 100;

    private static readonly ImmutableArray<byte> Payload = [.. Enumerable.Range(0, 126).Select(i => (byte)('a' + (i % 26)))];

    public static void Run()
    {
        Console.WriteLine(Serving.Surroundings.Line());
        var directory = Directory.CreateTempSubdirectory("cursor-").FullName;
        try
        {
            using var journal = CommitCost.Opened(directory);
            var batch = 0L;
            var committed = new Spent("a batch of 100");
            (Spent Spent, Action Carry)[] ways =
            [
                (new Spent("claim, cursor apart"), () =>
                {
                    Done(journal.Claim("series", new Position(batch, 1)));
                    Done(journal.Advance("series", new Position(batch, 1)));
                }),
                (new Spent("both in one"), () => Done(journal.AdvanceAndClaim("series", new Position(batch - 1, 1), new Position(batch, 1)))),
            ];
            for (var round = -Warm; round < Rounds; round++)
            {
                foreach (var (spent, carry) in ways)
                {
                    var made = Made(++batch);
                    committed.Take(round >= 0, () => CommitCost.Commit(journal, made));
                    spent.Take(round >= 0, carry);
                }
            }

            Console.WriteLine(committed);
            foreach (var (spent, _) in ways) Console.WriteLine(spent);
            Console.WriteLine(FormattableString.Invariant($"load average {Serving.Surroundings.LoadAverage()}"));
        }
        finally
        {
            Directory.Delete(directory, recursive: true);
        }
    }

    private static Batch Made(long number) => new(number)
    {
        Inputs =
        [
            .. Enumerable.Range(0, Messages).Select(i => new Moment(1_772_432_045_000 + (number * Messages) + i))
                .Select(at => new InputRow { Vehicle = new VehicleKey("north", $"T-{at.UnixMilliseconds % 1000:000}"), Kind = new RowKind(1), Received = at, Samples = SampleSpan.At(at), Bytes = Payload }),
        ],
    };

    private static void Done(WriteOutcome outcome)
    {
        if (outcome is not WriteOutcome.Committed) throw new InvalidOperationException($"The journal does not take it: {outcome}.");
    }

    private sealed class Spent(string name)
    {
        private readonly List<double> _wall = [];
        private TimeSpan _processor;

        public void Take(bool counts, Action act)
        {
            var (began, before) = (Stopwatch.GetTimestamp(), Environment.CpuUsage.TotalTime);
            act();
            if (!counts) return;
            _wall.Add(Stopwatch.GetElapsedTime(began).TotalMilliseconds);
            _processor += Environment.CpuUsage.TotalTime - before;
        }

        public override string ToString()
        {
            var sorted = _wall.Order().ToArray();
            return FormattableString.Invariant($"{name,-20} median {sorted[sorted.Length / 2]:0.00} ms, 90 % under {sorted[sorted.Length * 9 / 10]:0.00} ms, {_processor.TotalMilliseconds / sorted.Length:0.000} ms of processor time");
        }
    }
}
