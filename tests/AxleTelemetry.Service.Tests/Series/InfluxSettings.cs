using System.Globalization;

namespace AxleTelemetry.Service.Tests.Series;

/// <summary>Settings of an InfluxDB 1 that keeps everything in one directory and says nothing.</summary>
internal static class InfluxSettings
{
    public static string Text(string directory, int http, int copies) => string.Create(CultureInfo.InvariantCulture, $"""
        reporting-enabled = false
        bind-address = "127.0.0.1:{copies}"
        [meta]
        dir = "{directory}/meta"
        [data]
        dir = "{directory}/data"
        wal-dir = "{directory}/wal"
        query-log-enabled = false
        [monitor]
        store-enabled = false
        [http]
        bind-address = "127.0.0.1:{http}"
        log-enabled = false
        [logging]
        level = "error"
        """);
}
