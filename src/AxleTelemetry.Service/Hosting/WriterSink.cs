using Serilog.Core;
using Serilog.Events;
using Serilog.Formatting;

namespace AxleTelemetry.Service.Hosting;

/// <summary>Writes the log where the command line writes, a line at a time.</summary>
internal sealed class WriterSink(TextWriter output, ITextFormatter format) : ILogEventSink
{
    private readonly Lock _gate = new();

    public void Emit(LogEvent logEvent)
    {
        lock (_gate)
        {
            format.Format(logEvent, output);
            output.Flush();
        }
    }
}
