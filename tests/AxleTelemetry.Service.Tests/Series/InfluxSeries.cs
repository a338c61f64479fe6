using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json;

namespace AxleTelemetry.Service.Tests.Series;

/// <summary>One series of an answer to InfluxQL.</summary>
/// <param name="Name">Its measurement.</param>
/// <param name="Tags">Tags it was grouped by.</param>
/// <param name="Columns">Names of the columns, the first of which is mostly 'time'.</param>
/// <param name="Rows">Values as they stand in the answer; times in milliseconds.</param>
internal sealed record InfluxSeries(string Name, ImmutableSortedDictionary<string, string> Tags, ImmutableArray<string> Columns, ImmutableArray<ImmutableArray<JsonElement>> Rows)
{
    public static InfluxSeries Of(JsonElement series) => new(
        series.GetProperty("name").GetString()!,
        series.TryGetProperty("tags", out var tags) ? tags.EnumerateObject().ToImmutableSortedDictionary(t => t.Name, t => t.Value.GetString()!, StringComparer.Ordinal) : ImmutableSortedDictionary<string, string>.Empty,
        [.. series.GetProperty("columns").EnumerateArray().Select(c => c.GetString()!)],
        [.. series.GetProperty("values").EnumerateArray().Select(r => r.Clone().EnumerateArray().ToImmutableArray())]);

    /// <summary>Its rows as text, tags first: one line a row, numbers to seven figures.</summary>
    public IEnumerable<string> Lines() => Rows.Select(row => string.Join(" | ", [.. Tags.Select(t => t.Value), .. row.Select(Cell)]));

    /// <summary>How a cell is told.</summary>
    public static string Cell(JsonElement value) => value.ValueKind switch
    {
        JsonValueKind.Number => Cell(value.GetDouble()),
        JsonValueKind.Null => "",
        JsonValueKind.True => "true",
        JsonValueKind.False => "false",
        _ => value.ToString(),
    };

    /// <summary>How a number is told. Whole numbers, as times are, are told whole.</summary>
    public static string Cell(double value) => Math.Abs(value - Math.Round(value)) < 1e-9 ? (Math.Round(value) + 0.0).ToString("F0", CultureInfo.InvariantCulture) : value.ToString("G7", CultureInfo.InvariantCulture);
}
