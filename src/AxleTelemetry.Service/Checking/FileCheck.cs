using System.Collections.Immutable;
using AxleTelemetry.Service.Inputs;

namespace AxleTelemetry.Service.Checking;

/// <summary>Checks files of whatever kind, each for itself and against the vehicles that the others describe.</summary>
internal static class FileCheck
{
    /// <summary>What came of each file, in the order given.</summary>
    public static ImmutableArray<CheckedFile> Run(IReadOnlyList<string> names)
    {
        // Vehicles first: what other files say of them can only be judged when they are known.
        var first = names.Select(name => Check(name, FileKind.Vehicles)).ToList();
        var vehicles = new KnownVehicles(first.OfType<CheckedFile>());
        var others = FileKind.Others(vehicles);
        return [.. names.Select((name, i) => first[i] is { } file ? vehicles.WithTwins(file) : Check(name, others) ?? Unknown(name))];
    }

    /// <summary>What came of a file of one of these kinds, or that cannot be read; <c>null</c> for a file of another kind.</summary>
    private static CheckedFile? Check(string name, ImmutableArray<FileKind> kinds)
    {
        if (Read(name, out var unreadable) is not { } text) return new CheckedFile(name, "", "", [unreadable!]);
        if (kinds.FirstOrDefault(kind => kind.Recognises(text)) is not { } kind) return null;
        if (text.Length > FileText.MostBytes && !kind.IsStream)
            return new CheckedFile(name, kind.Name, "", [new FileProblem { Kind = "TooLarge", Found = $"{text.Length} bytes", Right = $"A file of this kind has at most {FileText.MostBytes} bytes." }]);
        return kind.Check(text) with { Name = name, Kind = kind.Name };
    }

    private static CheckedFile Unknown(string name)
    {
        var known = string.Join("; ", FileKind.Vehicles.Concat(FileKind.Others(KnownVehicles.None)).Select(k => $"{k.Name} ({k.KnownBy})"));
        return new CheckedFile(name, "", "", [new FileProblem { Kind = "UnknownKind", Found = Content(name), Right = $"Known are {known}." }]);
    }

    /// <summary>What stands in a file that is of no kind: so that an empty one or one in another encoding is known for what it is.</summary>
    private static string Content(string name) => Read(name, out _)?.Bytes switch
    {
        null or [] => "an empty file",
        [0xFF, 0xFE, ..] or [0xFE, 0xFF, ..] => "text in UTF-16 (save it as UTF-8)",
        var bytes when bytes.AsSpan().Contains((byte)0) => "bytes that are no text",
        _ => "none of the kinds of file known here",
    };

    private static FileText? Read(string name, out FileProblem? problem)
    {
        problem = null;
        try
        {
            using var stream = File.OpenRead(name);
            var bytes = new byte[Math.Min(stream.Length, FileText.MostBytes)];
            stream.ReadExactly(bytes);
            return new FileText(name, bytes, stream.Length);
        }
        catch (Exception unreadable) when (unreadable is IOException or UnauthorizedAccessException or NotSupportedException)
        {
            problem = new FileProblem { Kind = "Unreadable", Found = "a file that cannot be read", Right = Unreadable.Words(name, unreadable) };
        }

        return null;
    }
}
