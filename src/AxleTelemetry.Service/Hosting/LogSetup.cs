using Serilog;
using Serilog.Events;
using Serilog.Formatting.Compact;
using Serilog.Formatting.Display;

namespace AxleTelemetry.Service.Hosting;

/// <summary>The log of the service: quiet, to the console, as text or as JSON. Requests are not logged.</summary>
internal static class LogSetup
{
    private const string Line = "{UtcTimestamp:yyyy-MM-ddTHH:mm:ss.fffZ} {Level:u4} {Message:lj}{NewLine}{Exception}";

    public static Serilog.Core.Logger Create(TextWriter output, bool asJson, LogEventLevel least = LogEventLevel.Information) => new LoggerConfiguration()
        .MinimumLevel.Is(least)
        .MinimumLevel.Override("Microsoft", LogEventLevel.Warning)
        // It would print the trace of what the command then tells in a sentence.
        .MinimumLevel.Override("Microsoft.Extensions.Hosting.Internal.Host", LogEventLevel.Fatal)
        // That keys of cookies lie unsealed in the data directory is so by choice: it is readable by the user of the service only.
        .MinimumLevel.Override("Microsoft.AspNetCore.DataProtection", LogEventLevel.Error)
        .MinimumLevel.Override("OpenTelemetry", LogEventLevel.Warning)
        // Where the start fails at once, it takes a task that was cancelled before it ever ran for one that failed.
        .Filter.ByExcluding(e => e.Exception is OperationCanceledException && e.Properties.GetValueOrDefault("SourceContext")?.ToString().Contains("Microsoft.Extensions.Hosting", StringComparison.Ordinal) == true)
        .WriteTo.Sink(new WriterSink(output, asJson ? new CompactJsonFormatter() : new MessageTemplateTextFormatter(Line, System.Globalization.CultureInfo.InvariantCulture)))
        .CreateLogger();
}
