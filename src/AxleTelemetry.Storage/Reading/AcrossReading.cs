using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Storage.Rows;
using AxleTelemetry.Storage.Sqlite;

namespace AxleTelemetry.Storage.Reading;

/// <summary>
/// Reads rows of one kind over many vehicles. A span that began before the one asked for and reaches into it cannot be found by its time
/// alone: rows up to a day long are looked for one day further back, the few longer ones stand in an index of their own by their last touch.
/// </summary>
internal static class AcrossReading
{
    // The literals are those of the indexes: SQLite uses a partial index only where a term of it stands in the query.
    private const string Day = "86400000";
    private const string Listed = "kind = ?1 AND kind <> 0 AND t <= ?2 AND touched >= ?3";
    private const string Short = $"INDEXED BY history_across CROSS JOIN vehicle ON vehicle.id = vehicle WHERE {Listed} AND t >= ?3 - {Day} AND touched - t <= {Day}";
    private const string Long = $"INDEXED BY history_long CROSS JOIN vehicle ON vehicle.id = vehicle WHERE {Listed} AND touched - t > {Day}";
    private const string OfOne = "JOIN vehicle ON vehicle.id = vehicle WHERE vehicle = ?9 AND kind = ?1 AND t <= ?2 AND coalesce(touched, t) >= ?3 AND bytes IS NOT NULL";

    // How the rows compare is in the names: those of vehicles, not the numbers they have by chance of arrival.
    private const string Newest = "t DESC, fleet DESC, name DESC, key DESC";
    private const string Oldest = "t, fleet, name, key";

    public static ImmutableArray<KeptHistory> Read(Connection connection, AcrossQuery query, long? vehicle)
    {
        if (vehicle is { } number) return [.. Page(connection, query, OfOne, number)];
        if (query.Kind.Code == 0) throw new ArgumentException("Rows of kind 0 are listed for one vehicle only.", nameof(query));
        var rows = Page(connection, query, Short, 0);
        rows.AddRange(Page(connection, query, Long, 0));
        rows.Sort((a, b) => query.NewestFirst ? Compare(b, a) : Compare(a, b));
        return [.. rows.Take(query.Limit)];
    }

    private static List<KeptHistory> Page(Connection connection, AcrossQuery query, string source, long vehicle)
    {
        var read = Bound(connection.Sql(Sql(source, query)), query);
        if (source == OfOne) read.Bind(9, vehicle);
        if (query.Fleet is { } fleet) read.Bind(10, fleet);
        var rows = new List<KeptHistory>();
        while (read.Step())
        {
            var key = new HistoryKey(new VehicleKey(read.Text(0), read.Text(1)), query.Kind, new Moment(read.Long(2)), read.Text(3));
            rows.Add(HistoryColumns.Kept(read, 4, key));
        }

        return rows;
    }

    // The page is chosen inside by the index alone; only then are its rows fetched.
    private static string Sql(string source, AcrossQuery query) => $"""
        SELECT fleet, name, page.t, page.key, {HistoryColumns.Of("history")}
        FROM (SELECT vehicle AS number, fleet, name, t, key FROM history {source}
            {Beyond(query)} {(query.Fleet is null ? "" : "AND fleet = ?10")} ORDER BY {(query.NewestFirst ? Newest : Oldest)} LIMIT ?8) AS page
        CROSS JOIN history ON history.vehicle = page.number AND history.kind = ?1 AND history.t = page.t AND history.key = page.key
        ORDER BY {(query.NewestFirst ? "page.t DESC, fleet DESC, name DESC, page.key DESC" : "page.t, fleet, name, page.key")}
        """;

    // The bound on t alone is what the index is entered by.
    private static string Beyond(AcrossQuery query) => query switch
    {
        { After: null } => "",
        { NewestFirst: true } => "AND t <= ?4 AND (t, fleet, name, key) < (?4, ?5, ?6, ?7)",
        _ => "AND t >= ?4 AND (t, fleet, name, key) > (?4, ?5, ?6, ?7)",
    };

    private static Statement Bound(Statement read, AcrossQuery query)
    {
        read.Bind(1, query.Kind.Code).Bind(2, query.Times.Greatest.UnixMilliseconds).Bind(3, query.Times.Least.UnixMilliseconds).Bind(8, query.Limit);
        if (query.After is not { } after) return read;
        return read.Bind(4, after.Time.UnixMilliseconds).Bind(5, after.Vehicle.Fleet).Bind(6, after.Vehicle.Vehicle).Bind(7, after.Key);
    }

    private static int Compare(KeptHistory a, KeptHistory b)
    {
        var order = a.Row.Key.Time.CompareTo(b.Row.Key.Time);
        if (order == 0) order = string.CompareOrdinal(a.Row.Key.Vehicle.Fleet, b.Row.Key.Vehicle.Fleet);
        if (order == 0) order = string.CompareOrdinal(a.Row.Key.Vehicle.Vehicle, b.Row.Key.Vehicle.Vehicle);
        return order == 0 ? string.CompareOrdinal(a.Row.Key.Key, b.Row.Key.Key) : order;
    }
}
