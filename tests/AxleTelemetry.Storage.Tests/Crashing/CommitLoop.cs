using System.Collections.Immutable;
using System.Globalization;
using AxleTelemetry.Storage.Opening;
using AxleTelemetry.Storage.Rows;
using AxleTelemetry.Storage.Writing;

namespace AxleTelemetry.Storage.Tests.Crashing;

/// <summary>A writer to be killed: commits batch after batch, each a function of its number, seals now and then, and says what is committed.</summary>
internal static class CommitLoop
{
    public const string Argument = "commit-loop";

    private const int SealEvery = 7;

    public static int Run(string directory)
    {
        if (Journal.Open(directory, Place.Shard, Place.Plain) is not JournalOpening.Opened opened) return 3;
        using var journal = opened.Journal;
        for (var number = journal.LastBatch()!.Value + 1; ; number++)
        {
            if (journal.Commit(Batch(number)) is not WriteOutcome.Committed) return 4;
            Console.Out.WriteLine(number.ToString(CultureInfo.InvariantCulture));
            Console.Out.Flush();
            if (number % SealEvery == 0 && journal.Seal(Some.At(number - (2 * SealEvery))) is not WriteOutcome.Committed) return 5;
        }
    }

    public static int Inputs(long number) => 1 + (int)(number * 7 % 40);

    public static Batch Batch(long number)
    {
        var vehicle = number % 2 == 0 ? Some.Truck : Some.Other;
        var inputs = Enumerable.Range(0, Inputs(number)).Select(i => Some.Input(vehicle, number, new string('x', i * 20)));
        return new Batch(number)
        {
            Inputs = [.. inputs],
            History = [Some.Put(number, "h")],
            Telling = [Some.Telling(number, "t")],
            Checkpoints = [new CheckpointRow(Some.Truck, Some.Kind, 1, [.. BitConverter.GetBytes(number)])],
        };
    }
}
