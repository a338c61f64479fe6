using AxleTelemetry.Messages.Refusals;

namespace AxleTelemetry.Service.Checking;

/// <summary>What could not be read or taken of a recording. Bounded, however bad the recording is.</summary>
internal sealed class RecordingFaults
{
    private const int MostLines = 20, MostKinds = 200;

    private readonly List<(long Line, Refusal Refusal)> _lines = [];
    private readonly Dictionary<(string Vehicle, RefusalReason Reason), Fault> _faults = [];
    private long _unreadable;
    private long _others;

    public bool Any => _unreadable > 0 || _faults.Count > 0;

    /// <summary>A line without a message in it.</summary>
    public void AddLine(long line, Refusal refusal)
    {
        _unreadable++;
        if (_lines.Count < MostLines) _lines.Add((line, refusal));
    }

    /// <summary>What one message of a vehicle had refused for one reason.</summary>
    public void Add(string vehicle, RefusalReason reason, (long Line, int Times, Refusal? First) seen)
    {
        if (_faults.TryGetValue((vehicle, reason), out var fault)) _faults[(vehicle, reason)] = fault with { Times = fault.Times + seen.Times, First = fault.First ?? seen.First };
        else if (_faults.Count < MostKinds) _faults.Add((vehicle, reason), new(seen.Line, seen.Times, seen.First));
        else _others += seen.Times;
    }

    public IEnumerable<FileProblem> Told()
    {
        foreach (var (line, refusal) in _lines)
            yield return new FileProblem { Kind = refusal.Reason.ToString(), Path = refusal.Field, Line = (int)line, Found = refusal.Excerpt, Right = Sentence(refusal) };
        if (_unreadable > _lines.Count)
            yield return new FileProblem { Kind = "Unreadable", Found = FormattableString.Invariant($"{_unreadable - _lines.Count} more such lines"), Right = "A line is one JSON object with topic and payload." };
        foreach (var ((vehicle, reason), fault) in _faults.OrderBy(f => f.Key.Vehicle, StringComparer.Ordinal).ThenBy(f => f.Key.Reason)) yield return Told(vehicle, reason, fault);
        if (_others > 0)
            yield return new FileProblem { Kind = "Others", Found = FormattableString.Invariant($"{_others} more refusals of other vehicles"), Right = "Put these right first." };
    }

    private static FileProblem Told(string vehicle, RefusalReason reason, Fault fault)
    {
        var times = fault.Times == 1 ? "once" : FormattableString.Invariant($"{fault.Times} times");
        var of = vehicle.Length == 0 ? "" : $" from {vehicle}";
        var first = fault.First is { } known ? $"{(fault.Times == 1 ? "" : "first ")}{known.Excerpt}" : "";
        return new FileProblem
        {
            Kind = reason.ToString(),
            Path = fault.First?.Field ?? "payload",
            Line = (int)fault.Line,
            Found = first.Length == 0 ? $"{RefusalWords.Of(reason)}, {times}{of}" : $"{RefusalWords.Of(reason)}, {times}{of}: {first}",
            Right = fault.First is { } refusal ? Sentence(refusal) : "See the message contract.",
        };
    }

    private static string Sentence(Refusal refusal) => $"Right would be: {refusal.Right}.";

    private sealed record Fault(long Line, int Times, Refusal? First);
}
