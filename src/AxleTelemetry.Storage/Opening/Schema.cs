using System.Collections.Immutable;
using System.Globalization;
using AxleTelemetry.Storage.Sqlite;

namespace AxleTelemetry.Storage.Opening;

/// <summary>The tables, as steps from one version to the next. A step that was released is never edited; a change is a new step.</summary>
internal static class Schema
{
    /// <summary>Marks the file as a journal: 'AxTj'.</summary>
    public const int ApplicationId = 0x4178546A;

    /// <summary>Step n leads from version n to version n + 1.</summary>
    public static readonly ImmutableArray<string> Steps = [First, Second, Third, Fourth];

    /// <summary>The version this program writes.</summary>
    public static int Version => Steps.Length;

    // Codes and moments are integers; a moment is milliseconds since 1970. A position is batch * 2^20 + row.
    private const string First = """
        CREATE TABLE owner(one INTEGER PRIMARY KEY CHECK(one = 1), shard TEXT NOT NULL, epoch INTEGER NOT NULL, batch INTEGER NOT NULL) STRICT;
        CREATE TABLE vehicle(id INTEGER PRIMARY KEY, fleet TEXT NOT NULL, name TEXT NOT NULL, UNIQUE(fleet, name)) STRICT;

        CREATE TABLE input(
            position INTEGER PRIMARY KEY, vehicle INTEGER NOT NULL, kind INTEGER NOT NULL, stream INTEGER NOT NULL,
            received INTEGER NOT NULL, least INTEGER NOT NULL, greatest INTEGER NOT NULL, bytes BLOB NOT NULL) STRICT;
        CREATE INDEX input_time ON input(vehicle, least, greatest);

        CREATE TABLE block(
            id INTEGER PRIMARY KEY, vehicle INTEGER NOT NULL, hour INTEGER NOT NULL, first INTEGER NOT NULL, last INTEGER NOT NULL,
            least INTEGER NOT NULL, greatest INTEGER NOT NULL, count INTEGER NOT NULL, size INTEGER NOT NULL,
            sha256 BLOB NOT NULL, bytes BLOB NOT NULL) STRICT;
        CREATE INDEX block_time ON block(vehicle, hour);
        CREATE INDEX block_position ON block(first, last);
        CREATE INDEX block_age ON block(greatest);

        CREATE TABLE history(
            vehicle INTEGER NOT NULL, kind INTEGER NOT NULL, t INTEGER NOT NULL, key TEXT NOT NULL,
            position INTEGER NOT NULL, aside BLOB, bytes BLOB, PRIMARY KEY(vehicle, kind, t, key)) STRICT, WITHOUT ROWID;
        CREATE INDEX history_position ON history(position);
        CREATE INDEX history_void ON history(position) WHERE bytes IS NULL;

        CREATE TABLE telling(
            position INTEGER PRIMARY KEY, vehicle INTEGER NOT NULL, kind INTEGER NOT NULL, key TEXT NOT NULL,
            at INTEGER NOT NULL, bytes BLOB NOT NULL) STRICT;

        CREATE TABLE refusal(
            position INTEGER PRIMARY KEY, vehicle INTEGER NOT NULL, reason INTEGER NOT NULL, received INTEGER NOT NULL, bytes BLOB NOT NULL) STRICT;
        CREATE INDEX refusal_vehicle ON refusal(vehicle);
        CREATE TABLE refusal_tally(vehicle INTEGER PRIMARY KEY, kept INTEGER NOT NULL, size INTEGER NOT NULL, dropped INTEGER NOT NULL) STRICT;

        CREATE TABLE checkpoint(vehicle INTEGER PRIMARY KEY, batch INTEGER NOT NULL, version INTEGER NOT NULL, bytes BLOB NOT NULL) STRICT;
        CREATE TABLE correction(vehicle INTEGER PRIMARY KEY, since INTEGER NOT NULL) STRICT;
        CREATE TABLE cursor(
            name TEXT PRIMARY KEY, position INTEGER NOT NULL, missed INTEGER NOT NULL, missed_in_all INTEGER NOT NULL) STRICT, WITHOUT ROWID;
        """;

    // Frequent rows pay for nothing here: those of kind 0 have no 'touched' but where it differs from t, so they stand in none of the indexes
    // over history. Rows of other kinds have it while they are in force: so the index alone tells which those are, and no row is fetched in vain.
    // A place of a checkpoint is kind * 2^32 + vehicle: one integer is the cheapest key to replace a row by, and small rows of a kind share pages.
    // kinds of a block is a set of bits; all of them for a block of version 1, whose kinds nobody wrote down.
    private const string Second = """
        ALTER TABLE history ADD COLUMN touched INTEGER;
        UPDATE history SET touched = t WHERE kind <> 0 AND bytes IS NOT NULL;
        CREATE INDEX history_touched ON history(vehicle, touched) WHERE touched <> t;
        CREATE INDEX history_across ON history(kind, t, touched) WHERE kind <> 0 AND touched IS NOT NULL;
        CREATE INDEX history_long ON history(kind, touched, t) WHERE kind <> 0 AND touched - t > 86400000;

        ALTER TABLE checkpoint RENAME COLUMN vehicle TO place;

        CREATE TABLE snapshot(
            id INTEGER PRIMARY KEY, vehicle INTEGER NOT NULL, upto INTEGER NOT NULL, size INTEGER NOT NULL, bytes BLOB NOT NULL,
            UNIQUE(vehicle, upto)) STRICT;

        ALTER TABLE block ADD COLUMN kinds INTEGER NOT NULL DEFAULT -1;
        CREATE INDEX block_kinds ON block(vehicle, kinds, last);

        CREATE INDEX telling_vehicle ON telling(vehicle);
        CREATE INDEX telling_key ON telling(key);
        """;

    // What whoever carries history outside has carried of a row that changed since: he must take it back where the new one no longer says it.
    private const string Third = "ALTER TABLE history ADD COLUMN carried BLOB";

    // Between its reading and the move of its cursor a page may stand outside or not: how far that may be is written down before. So several versions of a row
    // may stand there, each with its length before it in eight hexadecimal digits.
    private const string Fourth = """
        CREATE TABLE claim(cursor TEXT PRIMARY KEY, upto INTEGER NOT NULL) STRICT, WITHOUT ROWID;
        INSERT INTO claim(cursor, upto) SELECT name, position FROM cursor WHERE name = 'series';
        UPDATE history SET carried = CAST(printf('%08x', length(carried)) || carried AS BLOB) WHERE carried IS NOT NULL;
        """;

    /// <summary>Brings a file to the version of the last step, each step in a transaction of its own.</summary>
    public static void Migrate(Connection connection, ImmutableArray<string> steps)
    {
        for (var version = connection.Number("PRAGMA user_version"); version < steps.Length; version++)
        {
            connection.Begin();
            try
            {
                connection.Run(steps[(int)version]);
                connection.Run(string.Create(CultureInfo.InvariantCulture, $"PRAGMA user_version = {version + 1}"));
                connection.Commit();
            }
            catch
            {
                connection.Rollback();
                throw;
            }
        }
    }
}
