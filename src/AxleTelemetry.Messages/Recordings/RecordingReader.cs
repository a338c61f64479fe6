using AxleTelemetry.Messages.Refusals;

namespace AxleTelemetry.Messages.Recordings;

/// <summary>
/// Reads a recording: newline-delimited JSON (NDJSON), one message a line, in the order received.
/// <code>
/// {"topic":"axles/v1/f/v/pressure","received":"2026-03-02T06:14:06.000Z","payload":{"samples":[]}}
/// {"topic":"axles/v1/f/v/pressure","payload_base64":"/w=="}
/// </code>
/// </summary>
/// <remarks>
/// <c>topic</c>: the topic, required. <c>payload</c>: the payload as JSON; its bytes are those between the colon and the comma or brace,
/// untouched. <c>payload_base64</c>: any bytes, for what is not JSON; exactly one of the two. <c>received</c>: RFC 3339 in UTC or whole
/// milliseconds since 1970, optional. Other fields are ignored, empty lines skipped, a carriage return at the end and a byte order mark at the
/// beginning forgiven. A bad line gives an <see cref="RecordingEntry.Unreadable"/> and reading goes on. One line is held in memory, of at most
/// <see cref="MaxLineBytes"/>; a longer one is skipped to its end. The stream stays the caller's; its I/O errors pass through.
/// </remarks>
public sealed class RecordingReader
{
    /// <summary>Bytes of a line: more than the largest payload in base64 needs.</summary>
    public const int MaxLineBytes = 256 * 1024;

    private readonly Stream stream;
    private byte[] buffer = new byte[16 * 1024];
    private int start;
    private int end;
    private long line;

    /// <summary>Reads from a stream, from where it stands.</summary>
    public RecordingReader(Stream stream)
    {
        ArgumentNullException.ThrowIfNull(stream);
        this.stream = stream;
    }

    /// <summary>The entries, one at a time as the stream gives them. To be enumerated once.</summary>
    public IEnumerable<RecordingEntry> Entries()
    {
        while (TryLine(out var at, out var length))
        {
            line++;
            var entry = length > MaxLineBytes ? TooLong() : RecordingLine.Parse(buffer.AsSpan(at, length), line);
            if (entry is not null) yield return entry;
        }
    }

    /// <summary>The next line, without its newline; a length over the limit stands for a line that was skipped.</summary>
    private bool TryLine(out int at, out int length)
    {
        var searched = 0;
        while (true)
        {
            var newline = buffer.AsSpan(start + searched, end - start - searched).IndexOf((byte)'\n');
            if (newline >= 0)
            {
                at = start;
                length = searched + newline;
                start += length + 1;
                return true;
            }

            searched = end - start;
            if (searched > MaxLineBytes) return SkipLine(out at, out length);
            if (Fill()) continue;
            at = start;
            length = searched;
            start = end;
            return length > 0;
        }
    }

    private bool SkipLine(out int at, out int length)
    {
        at = 0;
        length = MaxLineBytes + 1;
        do
        {
            start = 0;
            end = stream.Read(buffer);
            var newline = buffer.AsSpan(0, end).IndexOf((byte)'\n');
            if (newline < 0) continue;
            start = newline + 1;
            return true;
        }
        while (end > 0);
        return true;
    }

    private bool Fill()
    {
        if (end == buffer.Length && start > 0)
        {
            buffer.AsSpan(start, end - start).CopyTo(buffer);
            end -= start;
            start = 0;
        }

        if (end == buffer.Length) Array.Resize(ref buffer, 2 * buffer.Length);
        var read = stream.Read(buffer, end, buffer.Length - end);
        end += read;
        return read > 0;
    }

    private RecordingEntry.Unreadable TooLong() => new(
        line,
        new Refusal(RefusalReason.TooLong, "line", $"more than {MaxLineBytes} bytes", $"at most {MaxLineBytes} bytes"));
}
