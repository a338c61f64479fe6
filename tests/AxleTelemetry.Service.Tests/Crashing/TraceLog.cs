using System.Globalization;
using System.Text;

namespace AxleTelemetry.Service.Tests.Crashing;

/// <summary>What one process of the service wrote of the steps of its messages; read while it is written.</summary>
internal sealed class TraceLog(string path)
{
    private readonly StringBuilder _rest = new();
    private readonly Dictionary<string, HashSet<long>> _steps = [];
    private long _read;

    /// <summary>Lines so far.</summary>
    public int Lines { get; private set; }

    /// <summary>Messages received that the sender marked as sent before.</summary>
    public int Again { get; private set; }

    /// <summary>Numbers of the messages that came to a step.</summary>
    public IReadOnlySet<long> Of(string step) => _steps.TryGetValue(step, out var numbers) ? numbers : new HashSet<long>();

    /// <summary>Messages received and not committed.</summary>
    public int Uncommitted => Of("received").Count - Of("committed").Count;

    /// <summary>Messages committed of which the sender was not told.</summary>
    public int Unacknowledged => Of("committed").Count - Of("acknowledged").Count - Of("dropped").Count;

    /// <summary>Reads on.</summary>
    public TraceLog Refreshed()
    {
        if (!File.Exists(path)) return this;
        using var file = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite);
        file.Position = _read;
        using var reader = new StreamReader(file, Encoding.ASCII);
        var text = reader.ReadToEnd();
        _read += text.Length;
        _rest.Append(text);
        TakeLines();
        return this;
    }

    private void TakeLines()
    {
        var text = _rest.ToString();
        var end = text.LastIndexOf('\n') + 1;
        _rest.Remove(0, end);
        foreach (var line in text[..end].Split('\n', StringSplitOptions.RemoveEmptyEntries)) Take(line.Split(' '));
    }

    private void Take(string[] words)
    {
        Lines++;
        if (words is ["received", _, "again"]) Again++;
        if (!_steps.TryGetValue(words[0], out var numbers)) _steps.Add(words[0], numbers = []);
        numbers.Add(long.Parse(words[1], CultureInfo.InvariantCulture));
    }
}
