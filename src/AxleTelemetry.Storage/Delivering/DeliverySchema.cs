using AxleTelemetry.Storage.Sqlite;

namespace AxleTelemetry.Storage.Delivering;

/// <summary>The tables of what is delivered.</summary>
internal static class DeliverySchema
{
    /// <summary>Marks the file: 'AxTd'.</summary>
    public const int ApplicationId = 0x41785464;

    private const int Version = 2;

    // Moments are milliseconds since 1970; a place is a position of the journal as one integer.
    private const string First = """
        CREATE TABLE place(shard TEXT PRIMARY KEY, position INTEGER NOT NULL) STRICT, WITHOUT ROWID;

        CREATE TABLE parcel(
            number INTEGER PRIMARY KEY, message TEXT NOT NULL, recipient TEXT NOT NULL, alert TEXT NOT NULL, kind INTEGER NOT NULL,
            state INTEGER NOT NULL, urgent INTEGER NOT NULL, queued INTEGER NOT NULL, since INTEGER NOT NULL, due INTEGER NOT NULL, attempts INTEGER NOT NULL,
            ended INTEGER, trouble TEXT, digest INTEGER, bytes BLOB NOT NULL, UNIQUE(recipient, message)) STRICT;
        CREATE INDEX parcel_state ON parcel(recipient, state, due);
        CREATE INDEX parcel_ended ON parcel(state, ended) WHERE ended IS NOT NULL;
        CREATE INDEX parcel_digest ON parcel(digest) WHERE digest IS NOT NULL;

        CREATE TABLE follower(alert TEXT NOT NULL, recipient TEXT NOT NULL, PRIMARY KEY(alert, recipient)) STRICT, WITHOUT ROWID;

        CREATE TABLE reminder(
            alert TEXT NOT NULL, step TEXT NOT NULL, due INTEGER, recipients TEXT NOT NULL, message TEXT NOT NULL, bytes BLOB NOT NULL,
            PRIMARY KEY(alert, step)) STRICT, WITHOUT ROWID;
        CREATE INDEX reminder_due ON reminder(due) WHERE due IS NOT NULL;

        CREATE TABLE tally(recipient TEXT NOT NULL, what TEXT NOT NULL, count INTEGER NOT NULL, PRIMARY KEY(recipient, what)) STRICT, WITHOUT ROWID;
        """;

    // By what way it goes stands with a message of which the book of alerts is told what came of it.
    private const string Second = """
        ALTER TABLE parcel ADD COLUMN channel TEXT;
        CREATE INDEX parcel_alert ON parcel(alert) WHERE alert <> '';

        CREATE TABLE outcome(
            number INTEGER PRIMARY KEY, fleet TEXT NOT NULL, alert TEXT NOT NULL, recipient TEXT NOT NULL, channel TEXT NOT NULL, at INTEGER NOT NULL, why TEXT) STRICT;
        CREATE INDEX outcome_fleet ON outcome(fleet, number);

        CREATE TABLE hold(recipient TEXT PRIMARY KEY, until INTEGER NOT NULL) STRICT, WITHOUT ROWID;

        CREATE TABLE unread(shard TEXT NOT NULL, position INTEGER NOT NULL, alert TEXT NOT NULL, at INTEGER NOT NULL, PRIMARY KEY(shard, position)) STRICT, WITHOUT ROWID;
        """;

    /// <summary>Makes the tables in a new file, and brings an older one along.</summary>
    /// <exception cref="InvalidDataException">It is another file, or a newer program's.</exception>
    public static void Prepare(Connection connection)
    {
        var version = connection.Number("PRAGMA user_version");
        var isNew = version == 0 && connection.Number("SELECT count(*) FROM sqlite_master") == 0;
        if (!isNew && connection.Number("PRAGMA application_id") != ApplicationId) throw new InvalidDataException("It holds something else than what is delivered.");
        if (version > Version) throw new InvalidDataException(FormattableString.Invariant($"A newer program wrote it: version {version}, and {Version} is known here."));
        connection.Run("PRAGMA journal_mode = WAL");
        // A message that was handed over must not be forgotten by a power cut where the other side cannot tell that it came twice.
        connection.Run("PRAGMA synchronous = FULL");
        if (version == Version) return;
        connection.Begin();
        if (isNew) connection.Run(First);
        connection.Run(Second);
        connection.Run(FormattableString.Invariant($"PRAGMA application_id = {ApplicationId}"));
        connection.Run(FormattableString.Invariant($"PRAGMA user_version = {Version}"));
        connection.Commit();
    }
}
