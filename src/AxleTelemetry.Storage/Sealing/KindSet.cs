using AxleTelemetry.Storage.Rows;
using AxleTelemetry.Storage.Sqlite;

namespace AxleTelemetry.Storage.Sealing;

/// <summary>Which kinds of inputs a block holds, as bits, so that a block without a kind is not opened in search of it.</summary>
internal static class KindSet
{
    /// <summary>Every kind: also what is said of a block whose kinds nobody wrote down.</summary>
    public const long All = -1;

    // Kinds beyond share the last bit: for them a block may be opened in vain.
    private const int LastBit = 63;

    public static long Of(RowKind kind) => 1L << (kind.Code is >= 0 and < LastBit ? kind.Code : LastBit);

    public static long Of(IEnumerable<LoggedInput> inputs) => inputs.Aggregate(0L, (set, input) => set | Of(input.Row.Kind));

    /// <summary>The sets that a vehicle's blocks have: few, so that each is entered by itself.</summary>
    public static List<long> InBlocks(Connection connection, long vehicle)
    {
        var next = connection.Sql("SELECT kinds FROM block WHERE vehicle = ?1 AND kinds > ?2 ORDER BY kinds LIMIT 1");
        var sets = new List<long>();
        for (var after = long.MinValue; next.Bind(1, vehicle).Bind(2, after).Step(); next.Reset()) sets.Add(after = next.Long(0));
        return sets;
    }
}
