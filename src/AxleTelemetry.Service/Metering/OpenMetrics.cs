using System.Diagnostics.Metrics;
using System.Globalization;
using System.Text;

namespace AxleTelemetry.Service.Metering;

/// <summary>
/// The metrics as OpenMetrics text 1.0. Of our own, as the exporter that does this for the library is a preview; all our instruments are
/// observed counters and gauges, so it is a page of text. Those of one name stand together, as the format asks.
/// </summary>
internal static class OpenMetrics
{
    public const string ContentType = "application/openmetrics-text; version=1.0.0; charset=utf-8";

    public static string Text(Meter meter)
    {
        var families = new SortedDictionary<string, Family>(StringComparer.Ordinal);
        using var listener = new MeterListener();
        listener.InstrumentPublished = (instrument, l) =>
        {
            if (ReferenceEquals(instrument.Meter, meter)) l.EnableMeasurementEvents(instrument);
        };
        listener.SetMeasurementEventCallback<int>((instrument, value, tags, _) => Take(families, instrument, value, tags));
        listener.SetMeasurementEventCallback<long>((instrument, value, tags, _) => Take(families, instrument, value, tags));
        listener.SetMeasurementEventCallback<double>((instrument, value, tags, _) => Take(families, instrument, value, tags));
        listener.Start();
        listener.RecordObservableInstruments();
        var text = new StringBuilder();
        foreach (var (name, family) in families) family.Write(name, text);
        return text.Append("# EOF\n").ToString();
    }

    private static void Take(SortedDictionary<string, Family> families, Instrument instrument, double value, ReadOnlySpan<KeyValuePair<string, object?>> tags)
    {
        var name = instrument.Name.Replace('.', '_');
        if (!families.TryGetValue(name, out var family))
            families.Add(name, family = new Family(instrument.GetType().Name.StartsWith("ObservableCounter", StringComparison.Ordinal), instrument.Description ?? ""));
        family.Lines.Add((Labels(tags), value));
    }

    private static string Labels(ReadOnlySpan<KeyValuePair<string, object?>> tags)
    {
        var text = new StringBuilder();
        foreach (var (name, value) in tags) text.Append(text.Length == 0 ? "{" : ",").Append(name).Append("=\"").Append(Escaped(value?.ToString() ?? "")).Append('"');
        return text.Length == 0 ? "" : text.Append('}').ToString();
    }

    private static string Escaped(string text) => text.Replace("\\", "\\\\", StringComparison.Ordinal).Replace("\"", "\\\"", StringComparison.Ordinal).Replace("\n", "\\n", StringComparison.Ordinal);

    private sealed class Family(bool isCounter, string help)
    {
        public List<(string Labels, double Value)> Lines { get; } = [];

        public void Write(string name, StringBuilder to)
        {
            to.Append("# TYPE ").Append(name).Append(isCounter ? " counter\n" : " gauge\n");
            to.Append("# HELP ").Append(name).Append(' ').Append(Escaped(help)).Append('\n');
            foreach (var (labels, value) in Lines)
                to.Append(name).Append(isCounter ? "_total" : "").Append(labels).Append(' ').Append(value.ToString("R", CultureInfo.InvariantCulture)).Append('\n');
        }
    }
}
