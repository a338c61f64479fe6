using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Storage.Reading;
using AxleTelemetry.Storage.Rows;
using AxleTelemetry.Storage.Sqlite;

namespace AxleTelemetry.Storage.Delivering;

/// <summary>What is delivered, within one transaction.</summary>
public sealed class DeliveryBook
{
    /// <summary>Messages that may wait for one recipient; beyond it the oldest is given up.</summary>
    public const int MostWaiting = 10_000;

    /// <summary>Given-up messages that are kept in all; beyond it the oldest is dropped, counted.</summary>
    public const int MostDead = 10_000;

    /// <summary>How long it is remembered what was delivered, ms.</summary>
    public const long KeepsDelivered = 30L * 86_400_000;

    private const int AtOnce = 200;

    private const string Columns = "number, message, recipient, alert, kind, state, urgent, queued, due, attempts, ended, trouble, bytes";

    private readonly Connection _connection;

    internal DeliveryBook(Connection connection)
    {
        _connection = connection;
        (Outcomes, Unread) = (new OutcomeBook(connection), new UnreadBook(connection));
    }

    /// <summary>What came of messages and is still to be told to the book of alerts.</summary>
    public OutcomeBook Outcomes { get; }

    /// <summary>Changes that could not be read.</summary>
    public UnreadBook Unread { get; }

    /// <summary>The last position of a shard's journal that was taken in; <c>null</c> before the first.</summary>
    public Position? PlaceOf(string shard)
    {
        var read = _connection.Sql("SELECT position FROM place WHERE shard = ?1").Bind(1, shard);
        if (!read.Step()) return null;
        var position = Position.FromStored(read.Long(0));
        read.Reset();
        return position;
    }

    /// <summary>A shard's journal is taken in up to a position.</summary>
    public void Place(string shard, Position at) => _connection.Sql("INSERT INTO place VALUES(?1, ?2) ON CONFLICT(shard) DO UPDATE SET position = excluded.position").Bind(1, shard).Bind(2, at.Stored).Run();

    /// <summary>A message is to be sent. False where this recipient has, or had, one of the same name.</summary>
    public bool Add(NewParcel parcel)
    {
        var added = _connection.Sql("""
            INSERT INTO parcel(message, recipient, alert, kind, state, urgent, queued, since, due, attempts, bytes, channel) VALUES(?1, ?2, ?3, ?4, 0, ?5, ?6, ?6, 0, 0, ?7, nullif(?8, ''))
            ON CONFLICT(recipient, message) DO NOTHING
            """).Bind(1, parcel.Message).Bind(2, parcel.Recipient).Bind(3, parcel.Alert).Bind(4, (int)parcel.Kind).Bind(5, parcel.IsUrgent ? 1 : 0)
            .Bind(6, parcel.At.UnixMilliseconds).Bind(7, parcel.Bytes.AsSpan()).Bind(8, parcel.Channel ?? "").Run() > 0;
        if (!added) return false;
        if (parcel.Kind == ParcelKind.Escalation) Count(parcel.Recipient, "escalated");
        foreach (var over in Numbers("SELECT number FROM parcel WHERE recipient = ?1 AND state = 0 ORDER BY number DESC LIMIT -1 OFFSET ?2", parcel.Recipient, MostWaiting))
        {
            GiveUp(over, parcel.At, "Too many wait for this recipient: the oldest is given up.");
            Trim();
        }

        return true;
    }

    /// <summary>The next messages to a recipient that are due: urgent ones first, then as they came.</summary>
    public ImmutableArray<Parcel> Due(string recipient, Moment at, int limit) =>
        Read(_connection.Sql($"SELECT {Columns} FROM parcel WHERE recipient = ?1 AND state = 0 AND due <= ?2 ORDER BY urgent DESC, number LIMIT ?3")
            .Bind(1, recipient).Bind(2, at.UnixMilliseconds).Bind(3, limit));

    /// <summary>When the next message to a recipient is due; <c>null</c> where none waits.</summary>
    public Moment? NextDue(string recipient)
    {
        var due = Number("SELECT coalesce(min(due), -1) FROM parcel WHERE recipient = ?1 AND state = ?2", recipient, (int)ParcelState.Waiting);
        return due < 0 ? null : new Moment(due);
    }

    /// <summary>Nothing is to be sent to a recipient before then: he asks for it.</summary>
    public void Hold(string recipient, Moment until) =>
        _connection.Sql("INSERT INTO hold VALUES(?1, ?2) ON CONFLICT(recipient) DO UPDATE SET until = excluded.until").Bind(1, recipient).Bind(2, until.UnixMilliseconds).Run();

    /// <summary>Before when nothing is to be sent to a recipient; <c>null</c> where he never asked for a pause.</summary>
    public Moment? HeldUntil(string recipient)
    {
        var until = Single(_connection.Sql("SELECT coalesce(max(until), -1) FROM hold WHERE recipient = ?1").Bind(1, recipient));
        return until < 0 ? null : new Moment(until);
    }

    /// <summary>By what way messages to a recipient go that may still be sent, where it is entered what comes of them.</summary>
    public void GoBy(string recipient, string channel)
    {
        const string Rows = "UPDATE parcel SET channel = ?2 WHERE recipient = ?1 AND channel IS NOT NULL AND channel <> ?2";
        // Parts of a digest end with it.
        foreach (var which in (ReadOnlySpan<string>)["state = 0", "state = 3", "state = 1 AND ended IS NULL"]) _connection.Sql($"{Rows} AND {which}").Bind(1, recipient).Bind(2, channel).Run();
    }

    /// <summary>A recipient is reached elsewhere from now on: the pause that was asked for where he was before does not hold there, and what waits is tried at once.</summary>
    public void Move(string recipient, Moment at)
    {
        _connection.Sql("DELETE FROM hold WHERE recipient = ?1").Bind(1, recipient).Run();
        _connection.Sql("UPDATE parcel SET due = ?2 WHERE recipient = ?1 AND state = 0 AND due > ?2").Bind(1, recipient).Bind(2, at.UnixMilliseconds).Run();
    }

    /// <summary>When messages to a recipient were delivered, those within a time, oldest first.</summary>
    public ImmutableArray<(Moment At, bool IsUrgent)> DeliveredAfter(string recipient, Moment after)
    {
        var read = _connection.Sql("SELECT ended, urgent FROM parcel WHERE recipient = ?1 AND state = 2 AND ended > ?2 ORDER BY ended").Bind(1, recipient).Bind(2, after.UnixMilliseconds);
        var times = ImmutableArray.CreateBuilder<(Moment, bool)>();
        while (read.Step()) times.Add((new Moment(read.Long(0)), read.Long(1) != 0));
        return times.ToImmutable();
    }

    /// <summary>Waiting messages to a recipient are told as one from now on.</summary>
    public void Gather(string recipient, ImmutableArray<Parcel> parts, string message, Moment at)
    {
        Add(new NewParcel(message, recipient, "", ParcelKind.Digest) { IsUrgent = parts.Any(p => p.IsUrgent), At = at, Bytes = [] });
        var digest = Number("SELECT number FROM parcel WHERE recipient = ?1 AND message = ?2", recipient, message);
        foreach (var part in parts) _connection.Sql("UPDATE parcel SET state = 1, digest = ?2 WHERE number = ?1 AND state = 0").Bind(1, part.Number).Bind(2, digest).Run();
        Count(recipient, "gathered", parts.Length);
    }

    /// <summary>The parts of a digest, as they came.</summary>
    public ImmutableArray<Parcel> PartsOf(Parcel digest) => Read(_connection.Sql($"SELECT {Columns} FROM parcel WHERE digest = ?1 ORDER BY number").Bind(1, digest.Number));

    /// <summary>The other side has it.</summary>
    public void Delivered(Parcel parcel, Moment at)
    {
        _connection.Sql("UPDATE parcel SET state = 2, ended = ?2, trouble = NULL, bytes = x'' WHERE number = ?1").Bind(1, parcel.Number).Bind(2, at.UnixMilliseconds).Run();
        _connection.Sql("UPDATE parcel SET ended = ?2, bytes = x'' WHERE digest = ?1").Bind(1, parcel.Number).Bind(2, at.UnixMilliseconds).Run();
        Outcomes.Reached(parcel.Number, at);
        Count(parcel.Recipient, "delivered");
        _connection.Sql("DELETE FROM parcel WHERE number IN (SELECT number FROM parcel WHERE state IN (1, 2) AND ended < ?1 ORDER BY ended LIMIT 10)").Bind(1, at.UnixMilliseconds - KeepsDelivered).Run();
    }

    /// <summary>It could not be sent and is tried again.</summary>
    public void Failed(Parcel parcel, Moment due, string why)
    {
        _connection.Sql("UPDATE parcel SET attempts = attempts + 1, due = ?2, trouble = ?3 WHERE number = ?1").Bind(1, parcel.Number).Bind(2, due.UnixMilliseconds).Bind(3, why).Run();
        Count(parcel.Recipient, "retried");
    }

    /// <summary>It is given up.</summary>
    public void GiveUp(Parcel parcel, Moment at, string why)
    {
        GiveUp(parcel.Number, at, why);
        Trim();
    }

    /// <summary>Gives up what waits for recipients that are none any more, some of it at once. False where nothing is left.</summary>
    public bool GiveUpOthers(ImmutableArray<string> recipients, Moment at)
    {
        var read = _connection.Sql("SELECT DISTINCT recipient FROM parcel WHERE state = 0");
        var names = new List<string>();
        while (read.Step()) names.Add(read.Text(0));
        return names.Find(n => !recipients.Contains(n)) is { } name && GiveUpSome(name, at);
    }

    /// <summary>
    /// Gives up what waits for a recipient that is none any more, some of it at once: very much may wait, and meanwhile nothing else can be read or written here.
    /// False where nothing is left.
    /// </summary>
    public bool GiveUpSome(string recipient, Moment at)
    {
        var some = Numbers("SELECT number FROM parcel WHERE recipient = ?1 AND state = 0 LIMIT ?2", recipient, AtOnce);
        foreach (var number in some) GiveUp(number, at, "The settings have no recipient of this name any more.");
        if (some.Count > 0) Trim();
        return some.Count > 0;
    }

    /// <summary>To whom a given-up message was to go; <c>null</c> where there is none of that number.</summary>
    public string? DeadTo(long number)
    {
        var read = _connection.Sql("SELECT recipient FROM parcel WHERE number = ?1 AND state = 3").Bind(1, number);
        if (!read.Step()) return null;
        var recipient = read.Text(0);
        read.Reset();
        return recipient;
    }

    /// <summary>A given-up message waits again, as if it were new. False where it is none.</summary>
    public bool SendAgain(long number, Moment at) => _connection.Sql("UPDATE parcel SET state = 0, since = ?2, due = ?2, attempts = 0, ended = NULL WHERE number = ?1 AND state = 3").Bind(1, number).Bind(2, at.UnixMilliseconds).Run() > 0;

    /// <summary>Since when a message is tried: since it was to be told, or sent again.</summary>
    public Moment TriedSince(Parcel parcel) => new(Number("SELECT since FROM parcel WHERE number = ?1", parcel.Number));

    /// <summary>Messages in a state, newest first.</summary>
    public ImmutableArray<Parcel> In(ParcelState state, string? recipient, long before, int limit) =>
        Read(_connection.Sql($"SELECT {Columns} FROM parcel WHERE state = ?1 AND number < ?2 AND (?3 = '' OR recipient = ?3) ORDER BY number DESC LIMIT ?4")
            .Bind(1, (int)state).Bind(2, before).Bind(3, recipient ?? "").Bind(4, limit));

    /// <summary>Messages about an alert, newest first, in whatever state; those that were delivered are known for <see cref="KeepsDelivered"/>.</summary>
    public ImmutableArray<Parcel> About(string alert, int limit) => Read(_connection.Sql($"SELECT {Columns} FROM parcel WHERE alert = ?1 AND alert <> '' ORDER BY number DESC LIMIT ?2").Bind(1, alert).Bind(2, limit));

    /// <summary>
    /// Messages about an alert that are still to be sent, by themselves or in a digest, as they came. Only those of which it is entered whom they reached: what else
    /// goes out about it, to a broker or to one who was told, is not the alert.
    /// </summary>
    public ImmutableArray<Parcel> WaitingAbout(string alert, int limit) =>
        Read(_connection.Sql($"""
            SELECT {Columns} FROM parcel AS one WHERE alert = ?1 AND alert <> '' AND channel IS NOT NULL AND (state = 0 OR state = 1 AND EXISTS(SELECT 1 FROM parcel AS whole WHERE whole.number = one.digest AND whole.state = 0))
            ORDER BY number LIMIT ?2
            """).Bind(1, alert).Bind(2, limit));

    /// <summary>How many are in a state.</summary>
    public long CountOf(string recipient, ParcelState state) => Number("SELECT count(*) FROM parcel WHERE recipient = ?1 AND state = ?2", recipient, (int)state);

    /// <summary>What came of the messages to a recipient.</summary>
    public DeliveryTally TallyOf(string recipient)
    {
        long Of(string what) => Number("SELECT coalesce(max(count), 0) FROM tally WHERE recipient = ?1 AND what = ?2", recipient, what);
        return new DeliveryTally(Of("delivered"), Of("retried"), Of("dead"), Of("gathered"), Of("escalated"), Of("dropped"));
    }

    /// <summary>A recipient hears of an alert from now on, whatever it comes to.</summary>
    public void Follow(string alert, string recipient) => _connection.Sql("INSERT INTO follower VALUES(?1, ?2) ON CONFLICT DO NOTHING").Bind(1, alert).Bind(2, recipient).Run();

    /// <summary>Who hears of an alert.</summary>
    public ImmutableArray<string> FollowersOf(string alert)
    {
        var read = _connection.Sql("SELECT recipient FROM follower WHERE alert = ?1").Bind(1, alert);
        var names = ImmutableArray.CreateBuilder<string>();
        while (read.Step()) names.Add(read.Text(0));
        return names.ToImmutable();
    }

    /// <summary>An alert is over: nobody follows it any more.</summary>
    public void Forget(string alert) => _connection.Sql("DELETE FROM follower WHERE alert = ?1").Bind(1, alert).Run();

    /// <summary>Somebody is to be told later, unless that was said of this step already.</summary>
    public void Remind(Reminder reminder) => _connection.Sql("INSERT INTO reminder VALUES(?1, ?2, ?3, ?4, ?5, ?6) ON CONFLICT DO NOTHING").Bind(1, reminder.Alert).Bind(2, reminder.Step)
        .Bind(3, reminder.Due.UnixMilliseconds).Bind(4, string.Join(' ', reminder.To)).Bind(5, reminder.Message).Bind(6, reminder.Bytes.AsSpan()).Run();

    /// <summary>What an alert came to meanwhile, for those who will be told of it.</summary>
    public void Update(string alert, ImmutableArray<byte> bytes) => _connection.Sql("UPDATE reminder SET bytes = ?2 WHERE alert = ?1 AND due IS NOT NULL").Bind(1, alert).Bind(2, bytes.AsSpan()).Run();

    /// <summary>Nobody need be told of an alert later.</summary>
    public void Unremind(string alert) => _connection.Sql("DELETE FROM reminder WHERE alert = ?1").Bind(1, alert).Run();

    /// <summary>Takes what is due. It stays known as told until the alert is acknowledged or over, so that it is told once.</summary>
    public ImmutableArray<Reminder> TakeDue(Moment at)
    {
        var read = _connection.Sql("SELECT alert, step, due, recipients, message, bytes FROM reminder WHERE due <= ?1 ORDER BY due LIMIT 100").Bind(1, at.UnixMilliseconds);
        var due = ImmutableArray.CreateBuilder<Reminder>();
        while (read.Step())
            due.Add(new Reminder(read.Text(0), read.Text(1), new Moment(read.Long(2))) { To = [.. read.Text(3).Split(' ')], Message = read.Text(4), Bytes = HotInputs.Copy(read, 5) });
        foreach (var taken in due) _connection.Sql("UPDATE reminder SET due = NULL, bytes = x'' WHERE alert = ?1 AND step = ?2").Bind(1, taken.Alert).Bind(2, taken.Step).Run();
        return due.ToImmutable();
    }

    private void GiveUp(long number, Moment at, string why)
    {
        var read = _connection.Sql("UPDATE parcel SET state = 3, ended = ?2, trouble = ?3 WHERE number = ?1 RETURNING recipient").Bind(1, number).Bind(2, at.UnixMilliseconds).Bind(3, why);
        var recipient = read.Step() ? read.Text(0) : "";
        read.Reset();
        Outcomes.GivenUp(number, at, why);
        Count(recipient, "dead");
    }

    private void Trim()
    {
        Outcomes.Trim();
        // Only said so does the index serve it that holds what has ended.
        var dropped = _connection.Sql("SELECT number, recipient FROM parcel WHERE state = 3 AND ended IS NOT NULL ORDER BY ended DESC, number DESC LIMIT -1 OFFSET ?1").Bind(1, MostDead);
        var gone = new List<(long Number, string Recipient)>();
        while (dropped.Step()) gone.Add((dropped.Long(0), dropped.Text(1)));
        foreach (var (old, whose) in gone)
        {
            _connection.Sql("DELETE FROM parcel WHERE number = ?1 OR digest = ?1").Bind(1, old).Run();
            Count(whose, "dropped");
        }
    }

    private void Count(string recipient, string what, long by = 1) =>
        _connection.Sql("INSERT INTO tally VALUES(?1, ?2, ?3) ON CONFLICT(recipient, what) DO UPDATE SET count = count + excluded.count").Bind(1, recipient).Bind(2, what).Bind(3, by).Run();

    private List<long> Numbers(string sql, string recipient, long offset)
    {
        var read = _connection.Sql(sql).Bind(1, recipient).Bind(2, offset);
        var numbers = new List<long>();
        while (read.Step()) numbers.Add(read.Long(0));
        return numbers;
    }

    private long Number(string sql, string first, string second) => Single(_connection.Sql(sql).Bind(1, first).Bind(2, second));

    private long Number(string sql, string first, long second) => Single(_connection.Sql(sql).Bind(1, first).Bind(2, second));

    private long Number(string sql, long first) => Single(_connection.Sql(sql).Bind(1, first));

    private static long Single(Statement read)
    {
        var value = read.Step() ? read.Long(0) : 0;
        read.Reset();
        return value;
    }

    private static ImmutableArray<Parcel> Read(Statement read)
    {
        var parcels = ImmutableArray.CreateBuilder<Parcel>();
        while (read.Step())
        {
            parcels.Add(new Parcel(read.Long(0), read.Text(1), read.Text(2))
            {
                Alert = read.Text(3),
                Kind = (ParcelKind)read.Int(4),
                State = (ParcelState)read.Int(5),
                IsUrgent = read.Int(6) != 0,
                Queued = new Moment(read.Long(7)),
                Due = new Moment(read.Long(8)),
                Attempts = read.Int(9),
                Ended = read.IsNull(10) ? null : new Moment(read.Long(10)),
                Trouble = read.IsNull(11) ? null : read.Text(11),
                Bytes = HotInputs.Copy(read, 12),
            });
        }

        return parcels.ToImmutable();
    }
}
