using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using System.Text.Json;

namespace AxleTelemetry.Web.Look;

/// <summary>A column of a table that is taken along as a file.</summary>
/// <param name="Name">As it stands in the file, with its unit.</param>
/// <param name="Of">What it says of a row: a text, a number, or <c>null</c>.</param>
internal sealed record Column<TRow>(string Name, Func<TRow, object?> Of);

/// <summary>Tables as files: CSV (RFC 4180) and JSON, with the same names.</summary>
internal static class TableFile
{
    public static string Csv<TRow>(ImmutableArray<Column<TRow>> columns, IEnumerable<TRow> rows)
    {
        var text = new StringBuilder().AppendJoin(',', columns.Select(c => c.Name)).Append("\r\n");
        foreach (var row in rows) text.AppendJoin(',', columns.Select(c => Quoted(Text(c.Of(row))))).Append("\r\n");
        return text.ToString();
    }

    public static byte[] Json<TRow>(ImmutableArray<Column<TRow>> columns, IEnumerable<TRow> rows) =>
        JsonSerializer.SerializeToUtf8Bytes(rows.Select(r => columns.ToDictionary(c => c.Name, c => c.Of(r))));

    /// <summary>A figure as files have it.</summary>
    public static decimal? Rounded(double? value, int digits = 0) => value is { } v ? Math.Round((decimal)v, digits) : null;

    private static string Text(object? value) => Convert.ToString(value, CultureInfo.InvariantCulture) ?? "";

    // What begins like a formula would be one in a spreadsheet; a number may begin with a minus.
    private static string Quoted(string value)
    {
        if (value.Length > 0 && value[0] is '=' or '+' or '@' or '\t' or '\r' || value is ['-', .. var rest] && !double.TryParse(rest, CultureInfo.InvariantCulture, out _)) value = $"'{value}";
        return value.AsSpan().ContainsAny(",\"\r\n") ? $"\"{value.Replace("\"", "\"\"")}\"" : value;
    }
}
