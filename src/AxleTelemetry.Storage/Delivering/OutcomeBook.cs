using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Storage.Sqlite;

namespace AxleTelemetry.Storage.Delivering;

/// <summary>
/// What came of messages about alerts and is still to be told to the book of alerts, within one transaction. It is written together with what came of the
/// message, and let go once the journal holds it: so nothing is missing there after a crash.
/// </summary>
public sealed class OutcomeBook
{
    /// <summary>Outcomes that may wait; beyond it the oldest of the recipient that has most of them is dropped, counted.</summary>
    public const int Most = 10_000;

    // A recipient of whom very many are given up costs nobody else what came of his messages.
    private const string Drop = """
        DELETE FROM outcome WHERE number IN (
            SELECT number FROM outcome WHERE recipient = (SELECT recipient FROM outcome GROUP BY recipient ORDER BY count(*) DESC, recipient LIMIT 1) ORDER BY number LIMIT ?1)
        """;

    // The parts of a digest reach whom the digest reaches.
    private const string Enter = """
        INSERT INTO outcome(fleet, alert, recipient, channel, at, why)
        SELECT substr(alert, 1, instr(alert, '/') - 1), alert, recipient, channel, ?2, nullif(?3, '') FROM parcel WHERE (number = ?1 OR digest = ?1) AND channel IS NOT NULL ORDER BY number
        """;

    private readonly Connection _connection;

    internal OutcomeBook(Connection connection) => _connection = connection;

    /// <summary>Outcomes that were never told to the book: dropped, or of an alert that it does not keep any more.</summary>
    public long Untold
    {
        get
        {
            var read = _connection.Sql("SELECT coalesce(max(count), 0) FROM tally WHERE recipient = '' AND what = 'untold'");
            var count = read.Step() ? read.Long(0) : 0;
            read.Reset();
            return count;
        }
    }

    /// <summary>The oldest about the alerts of a fleet.</summary>
    public ImmutableArray<Outcome> Next(string fleet, int limit)
    {
        var read = _connection.Sql("SELECT number, alert, recipient, channel, at, why FROM outcome WHERE fleet = ?1 ORDER BY number LIMIT ?2").Bind(1, fleet).Bind(2, limit);
        var outcomes = ImmutableArray.CreateBuilder<Outcome>();
        while (read.Step()) outcomes.Add(new Outcome(read.Long(0), read.Text(1), read.Text(2), read.Text(3), new Moment(read.Long(4))) { Why = read.IsNull(5) ? null : read.Text(5) });
        return outcomes.ToImmutable();
    }

    /// <summary>They are in the journal.</summary>
    /// <param name="told">Which.</param>
    /// <param name="untold">How many of them are not, as the book does not keep their alerts any more.</param>
    public void LetGo(ImmutableArray<Outcome> told, int untold)
    {
        foreach (var outcome in told) _connection.Sql("DELETE FROM outcome WHERE number = ?1").Bind(1, outcome.Number).Run();
        Count(untold);
    }

    internal void Reached(long parcel, Moment at)
    {
        Add(parcel, at, "");
        Trim();
    }

    /// <summary>Whoever enters these trims in the end.</summary>
    internal void GivenUp(long parcel, Moment at, string why) => Add(parcel, at, why);

    /// <summary>Drops what is too many.</summary>
    internal void Trim()
    {
        for (var over = Over(); over > 0; over = Over()) Count(_connection.Sql(Drop).Bind(1, over).Run());
    }

    private void Add(long parcel, Moment at, string why) => _connection.Sql(Enter).Bind(1, parcel).Bind(2, at.UnixMilliseconds).Bind(3, why).Run();

    private long Over()
    {
        var read = _connection.Sql("SELECT count(*) FROM outcome");
        var count = read.Step() ? read.Long(0) : 0;
        read.Reset();
        return count - Most;
    }

    private void Count(int untold)
    {
        if (untold > 0) _connection.Sql("INSERT INTO tally VALUES('', 'untold', ?1) ON CONFLICT(recipient, what) DO UPDATE SET count = count + excluded.count").Bind(1, untold).Run();
    }
}

/// <summary>What came of a message about an alert.</summary>
/// <param name="Number">Its number in this file.</param>
/// <param name="Alert">About which alert.</param>
/// <param name="Recipient">To whom.</param>
/// <param name="Channel">By what way.</param>
/// <param name="At">When.</param>
public sealed record Outcome(long Number, string Alert, string Recipient, string Channel, Moment At)
{
    /// <summary>Why it was given up; <c>null</c> where the other side has it.</summary>
    public string? Why { get; init; }
}
