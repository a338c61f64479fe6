using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Storage.Rows;
using AxleTelemetry.Storage.Sqlite;

namespace AxleTelemetry.Storage.Reading;

/// <summary>How a row of history is read, wherever its key comes from.</summary>
internal static class HistoryColumns
{
    /// <summary>The columns beside the key.</summary>
    public const string All = "position, aside, bytes, touched";

    public static string Of(string table) => $"{table}.position, {table}.aside, {table}.bytes, {table}.touched";

    /// <summary>A row in force, whose columns begin at a column.</summary>
    public static KeptHistory Kept(Statement read, int first, HistoryKey key) => new(Position.FromStored(read.Long(first)), Put(read, first, key));

    /// <summary>A row as it was last changed.</summary>
    public static HistoryRow Row(Statement read, int first, HistoryKey key) => read.IsNull(first + 2) ? new HistoryRow.Void(key) : Put(read, first, key);

    private static HistoryRow.Put Put(Statement read, int first, HistoryKey key) => new(key, HotInputs.Copy(read, first + 2))
    {
        Aside = HotInputs.Copy(read, first + 1),
        Touched = read.IsNull(first + 3) || read.Long(first + 3) == key.Time.UnixMilliseconds ? null : new Moment(read.Long(first + 3)),
    };
}
