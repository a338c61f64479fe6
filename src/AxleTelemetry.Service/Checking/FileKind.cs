using System.Collections.Immutable;
using System.Text;
using AxleTelemetry.Messages.Calibration;
using AxleTelemetry.Messages.Limits;
using AxleTelemetry.Messages.VehicleFiles;

namespace AxleTelemetry.Service.Checking;

/// <summary>A sort of file that people write, how to know it, and how to check it.</summary>
internal sealed record FileKind(string Name, string KnownBy, Func<FileText, bool> Recognises, Func<FileText, (string Subject, ImmutableArray<FileProblem> Problems)> Check)
{
    /// <summary>All kinds; the first that recognises a file checks it.</summary>
    public static ImmutableArray<FileKind> All { get; } =
    [
        new("vehicle", "JSON with \"axles\"", text => text.Names.Contains("axles") || text.Names.Contains("kerb"), Vehicle),
        new("limits", "JSON with \"rules\"", text => text.Names.Contains("rules"), Limits),
        new("tickets", "CSV whose header has the columns weighing and kpa",
            text => text.FirstLine.Contains("weighing", StringComparison.Ordinal) && text.FirstLine.Contains("kpa", StringComparison.Ordinal), Tickets),
    ];

    private static (string, ImmutableArray<FileProblem>) Vehicle(FileText text)
    {
        var result = VehicleFile.Parse(text.Bytes);
        var subject = result is VehicleFileResult.Accepted accepted ? accepted.Vehicle.Id : "";
        return (subject, [.. result.Problems.Select(p => new FileProblem
        {
            IsWarning = p.IsWarning, Kind = p.Kind.ToString(), Path = p.Path, Line = p.Place.Line, Column = p.Place.Column, Found = p.Found, Right = p.Right,
        })]);
    }

    private static (string, ImmutableArray<FileProblem>) Limits(FileText text) => LimitSetParser.Parse(text.Bytes) switch
    {
        LimitSetResult.Parsed parsed => (parsed.Set.Id, []),
        LimitSetResult.Refused refused => ("", [.. refused.Errors.Select(e => new FileProblem { Path = e.Path, Found = e.Found, Right = $"Right is {e.Expected}." })]),
        var other => throw new InvalidOperationException($"No case for {other.GetType().Name}."),
    };

    private static (string, ImmutableArray<FileProblem>) Tickets(FileText text) => TicketsCsv.Parse(Encoding.UTF8.GetString(text.Bytes)) switch
    {
        TicketsRead read => (string.Join(", ", read.Tickets.Select(t => t.Circuit.ToString()).Distinct()), []),
        TicketsRefused refused => ("", [.. refused.Problems.Select(p => new FileProblem { Path = p.Field, Line = p.Line, Found = p.Value, Right = p.Right })]),
        var other => throw new InvalidOperationException($"No case for {other.GetType().Name}."),
    };
}
