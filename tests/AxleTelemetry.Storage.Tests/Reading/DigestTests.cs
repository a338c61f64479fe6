using AxleTelemetry.Storage.Reading;
using AxleTelemetry.Storage.Rows;

namespace AxleTelemetry.Storage.Tests.Reading;

public sealed class DigestTests
{
    [Fact]
    public void The_digest_does_not_depend_on_batching_order_detours_or_what_goes_beside()
    {
        var rows = Enumerable.Range(0, 300).Select(Row).ToArray();
        var plain = Digest([.. rows.Select(r => (HistoryRow)r)], 300, 0);
        for (var seed = 1; seed <= 8; seed++)
        {
            var random = new Random(seed);
            var changes = new List<HistoryRow>();
            foreach (var row in random.GetItems(rows, 40)) changes.Add(row with { Bytes = Some.Bytes("wrong"), Aside = Some.Bytes("revision 1") });
            foreach (var row in random.GetItems(rows, 20)) changes.Add(new HistoryRow.Void(row.Key));
            changes.Add(Some.Put(-5, "revised away", "gone"));
            random.Shuffle(rows);
            changes.AddRange(rows.Select(r => r with { Aside = Some.Bytes($"revision {random.Next(9)}") }));
            changes.Add(new HistoryRow.Void(Some.Key(-5, "gone")));
            Assert.True(plain == Digest(changes, 1 + random.Next(50), seed), $"seed {seed}");
        }
    }

    [Fact]
    public void The_digest_tells_every_part_of_a_row_apart()
    {
        HistoryRow.Put[] different =
        [
            Some.Put(0, "a"), Some.Put(0, "b"), Some.Put(1, "a"), Some.Put(0, "a", "l"),
            new(Some.Key(0) with { Kind = new RowKind(2) }, Some.Bytes("a")), new(Some.Key(0) with { Vehicle = Some.Other }, Some.Bytes("a")),
            new(Some.Key(0, "ka"), []),
        ];
        Assert.Equal(different.Length, different.Select(r => Digest([r], 1, 0)).Distinct().Count());
    }

    [Fact]
    public void Rows_added_in_order_without_a_journal_have_the_digest_of_the_journal()
    {
        var rows = Enumerable.Range(0, 300).Select(Row).Append(new HistoryRow.Put(Some.Key(3, new string('ä', 400)), Some.Bytes("long key"))).ToArray();
        using var digest = new HistoryDigest();
        foreach (var row in rows.OrderBy(r => r.Key.Vehicle.Fleet, StringComparer.Ordinal).ThenBy(r => r.Key.Vehicle.Vehicle, StringComparer.Ordinal)
            .ThenBy(r => r.Key.Kind.Code).ThenBy(r => r.Key.Time).ThenBy(r => r.Key.Key, StringComparer.Ordinal))
        {
            digest.Add(row.Key.Vehicle, row.Key.Kind, row.Key.Time, row.Key.Key, row.Bytes.AsSpan());
        }

        Assert.Equal(Digest(rows, 17, 0), digest.ToHex());
    }

    [Fact]
    public void The_digest_of_given_rows_stays_the_same_from_version_to_version()
    {
        using var digest = new HistoryDigest();
        digest.Add(Some.Truck, Some.Kind, Some.At(0), "k", "a"u8);
        var hex = digest.ToHex();
        Assert.Equal("a699704c992a894aeaad17b4bcc7d8db7fd1f97babd4d76393a46d0a554bc3c9", hex);
        Assert.Equal(hex, Digest([Some.Put(0, "a") with { Touched = Some.At(5) }], 1, 0));
        Assert.Equal("e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855", digest.ToHex());
    }

    private static HistoryRow.Put Row(int i) => new(new HistoryKey(i % 3 == 0 ? Some.Other : Some.Truck, new RowKind(i % 2), Some.At(i / 4), $"k{i}"), Some.Bytes($"value {i}"));

    private static string Digest(IReadOnlyList<HistoryRow> changes, int perBatch, int seed)
    {
        using var place = new Place();
        using var journal = place.Open();
        var number = 0L;
        foreach (var part in changes.Chunk(perBatch))
        {
            // Inputs and what was told are no history.
            journal.Commit(new Batch(++number) { History = [.. part], Inputs = [Some.Input(Some.Truck, seed)], Telling = [Some.Telling(seed, "t")] }).Done();
        }

        using var reader = journal.Reader();
        return reader.Digest();
    }
}
