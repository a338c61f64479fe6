using System.Globalization;
using System.Text;
using AxleTelemetry.Messages.Calibration;

namespace AxleTelemetry.Simulator.Weighings;

/// <summary>Rows as a file of tickets.</summary>
public static class TicketsText
{
    /// <summary>A header and one line per row, each ended by a line feed.</summary>
    public static string Of(IEnumerable<WeighedRow> rows)
    {
        var text = new StringBuilder("weighing,time,vehicle,sensor,kpa,axle_kg,method,gross_kg,note\n");
        foreach (var row in rows)
        {
            var time = DateTimeOffset.FromUnixTimeMilliseconds(row.At.UnixMilliseconds).ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture);
            text.Append(CultureInfo.InvariantCulture, $"{Quoted(row.Weighing)},{time},{row.Circuit.Vehicle},{row.Circuit.Sensor},{row.Kilopascals:0.0},")
                .Append(CultureInfo.InvariantCulture, $"{row.AxleKilograms:0},{MethodName.Of(row.Method)},{row.GrossKilograms:0},{Quoted(row.Note)}\n");
        }

        return text.ToString();
    }

    private static string Quoted(string text) =>
        text.AsSpan().ContainsAny(",;\t\"\n\r") ? $"\"{text.Replace("\"", "\"\"", StringComparison.Ordinal)}\"" : text;
}
