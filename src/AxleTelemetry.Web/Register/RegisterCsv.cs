using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using AxleTelemetry.Web.Sight;

namespace AxleTelemetry.Web.Register;

/// <summary>Lines of the register as CSV (RFC 4180), times in UTC, masses in kg.</summary>
internal static class RegisterCsv
{
    private static readonly ImmutableArray<(string Name, Func<EpisodeLine, string> Of)> Columns =
    [
        ("since", l => l.Since.ToString()), ("ended", l => l.Ended?.ToString() ?? ""), ("fleet", l => l.Vehicle.Fleet), ("vehicle", l => l.Vehicle.Id), ("plate", l => l.Plate),
        ("about", l => l.About), ("reached", l => l.Reached.ToString().ToLowerInvariant()), ("limit_kg", l => Number(l.Limit)), ("peak_excess_kg", l => Number(l.Peak?.Mean)),
        ("peak_low_kg", l => Number(l.Peak?.Low)), ("peak_high_kg", l => Number(l.Peak?.High)), ("source", l => l.Source), ("band", l => l.Band), ("lifts", l => l.Lifts),
        ("latitude_deg", l => l.Latitude?.ToString("0.00000", CultureInfo.InvariantCulture) ?? ""), ("longitude_deg", l => l.Longitude?.ToString("0.00000", CultureInfo.InvariantCulture) ?? ""),
        ("versions", l => l.Versions), ("sentence", l => l.Sentence),
    ];

    public static string Of(IEnumerable<EpisodeLine> lines)
    {
        var text = new StringBuilder().AppendJoin(',', Columns.Select(c => c.Name)).Append("\r\n");
        foreach (var line in lines) text.AppendJoin(',', Columns.Select(c => Quoted(c.Of(line)))).Append("\r\n");
        return text.ToString();
    }

    private static string Number(double? kilograms) => kilograms?.ToString("0", CultureInfo.InvariantCulture) ?? "";

    // What begins like a formula would be one in a spreadsheet; a number may begin with a minus.
    private static string Quoted(string value)
    {
        if (value.Length > 0 && value[0] is '=' or '+' or '@' or '\t' or '\r' || value is ['-', .. var rest] && !double.TryParse(rest, CultureInfo.InvariantCulture, out _)) value = $"'{value}";
        return value.AsSpan().ContainsAny(",\"\r\n") ? $"\"{value.Replace("\"", "\"\"")}\"" : value;
    }
}
