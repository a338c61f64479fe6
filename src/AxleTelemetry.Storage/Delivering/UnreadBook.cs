using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Storage.Rows;
using AxleTelemetry.Storage.Sqlite;

namespace AxleTelemetry.Storage.Delivering;

/// <summary>Changes of alerts that could not be read, so that nobody was told of them, within one transaction. Known for <see cref="DeliveryBook.KeepsDelivered"/>.</summary>
public sealed class UnreadBook
{
    /// <summary>So many are known by name; all are counted.</summary>
    public const int Most = 1_000;

    private readonly Connection _connection;

    internal UnreadBook(Connection connection) => _connection = connection;

    /// <summary>A change could not be read.</summary>
    /// <param name="shard">In whose journal.</param>
    /// <param name="position">Where there.</param>
    /// <param name="alert">Of which alert.</param>
    /// <param name="at">When that was seen.</param>
    public void Note(string shard, Position position, string alert, Moment at)
    {
        var isNew = _connection.Sql("INSERT INTO unread VALUES(?1, ?2, ?3, ?4) ON CONFLICT DO NOTHING").Bind(1, shard).Bind(2, position.Stored).Bind(3, alert).Bind(4, at.UnixMilliseconds).Run() > 0;
        if (!isNew) return;
        _connection.Sql("INSERT INTO tally VALUES(?1, 'unread', 1) ON CONFLICT(recipient, what) DO UPDATE SET count = count + 1").Bind(1, Journal(shard)).Run();
        _connection.Sql("DELETE FROM unread WHERE (shard, position) IN (SELECT shard, position FROM unread ORDER BY at DESC, position DESC LIMIT -1 OFFSET ?1)").Bind(1, Most).Run();
    }

    /// <summary>How many of a shard, ever.</summary>
    public long CountOf(string shard)
    {
        var read = _connection.Sql("SELECT coalesce(max(count), 0) FROM tally WHERE recipient = ?1 AND what = 'unread'").Bind(1, Journal(shard));
        var count = read.Step() ? read.Long(0) : 0;
        read.Reset();
        return count;
    }

    /// <summary>Those that are known by name, latest first.</summary>
    public ImmutableArray<UnreadChange> Since(Moment since)
    {
        var read = _connection.Sql("SELECT shard, position, alert, at FROM unread WHERE at >= ?1 ORDER BY at DESC, position DESC").Bind(1, since.UnixMilliseconds);
        var changes = ImmutableArray.CreateBuilder<UnreadChange>();
        while (read.Step()) changes.Add(new UnreadChange(read.Text(0), Position.FromStored(read.Long(1)), read.Text(2), new Moment(read.Long(3))));
        return changes.ToImmutable();
    }

    // No recipient has a name with a colon but the brokers.
    private static string Journal(string shard) => $"journal:{shard}";
}

/// <summary>A change of an alert that could not be read.</summary>
/// <param name="Shard">In whose journal.</param>
/// <param name="Position">Where there.</param>
/// <param name="Alert">Of which alert.</param>
/// <param name="At">When that was seen.</param>
public sealed record UnreadChange(string Shard, Position Position, string Alert, Moment At);
