using System.Globalization;
using System.Text;
using AxleTelemetry.Service.Receiving;

namespace AxleTelemetry.Service.Hosting;

/// <summary>
/// Writes each step of each message to a file, one line each, as it happens: <c>received 17</c>, <c>committed 17</c>, <c>acknowledged 17</c>. And, where told
/// to, stands still for good at a step of a message, so that a test can kill the process just there.
/// </summary>
internal sealed class TraceFile : IDisposable
{
    private readonly FileStream _file;
    private readonly Lock _gate = new();
    private readonly (TraceStep Step, long Number)? _holdAt;

    /// <param name="path">The file; appended to.</param>
    /// <param name="holdAt">Where to stand still: <c>received:17</c>; <c>null</c> for nowhere.</param>
    public TraceFile(string path, string? holdAt)
    {
        // No buffer of ours: what was written stays when the process is killed.
        _file = new FileStream(path, FileMode.Append, FileAccess.Write, FileShare.Read, bufferSize: 0);
        if (holdAt?.Split(':') is [var step, var number]) _holdAt = (Enum.Parse<TraceStep>(step, ignoreCase: true), long.Parse(number, CultureInfo.InvariantCulture));
    }

    /// <summary>A step happened.</summary>
    public void Write(TraceEvent happened)
    {
        var line = string.Create(CultureInfo.InvariantCulture, $"{Word(happened.Step)} {happened.Number}{(happened.Redelivered ? " again" : "")}\n");
        lock (_gate) _file.Write(Encoding.ASCII.GetBytes(line));
        if (_holdAt is { } hold && hold.Step == happened.Step && happened.Number >= hold.Number) Thread.Sleep(Timeout.Infinite);
    }

    public void Dispose() => _file.Dispose();

    private static string Word(TraceStep step) => step switch
    {
        TraceStep.Received => "received",
        TraceStep.Committed => "committed",
        TraceStep.Acknowledged => "acknowledged",
        TraceStep.Dropped => "dropped",
        _ => throw new ArgumentOutOfRangeException(nameof(step), step, "Unknown step."),
    };
}
