using System.Collections.Immutable;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Service.Checking;

/// <summary>What came of checking one file.</summary>
/// <param name="Name">Its name as given.</param>
/// <param name="Kind">What sort of file it is; empty where that cannot be told.</param>
/// <param name="Subject">What it is about, for a file without errors: <c>RT-01</c>, <c>12 tickets</c>.</param>
/// <param name="Problems">Everything found, errors first.</param>
internal sealed record CheckedFile(string Name, string Kind, string Subject, ImmutableArray<FileProblem> Problems)
{
    /// <summary>The vehicle that the file describes; <c>null</c> for other kinds and for a file with errors.</summary>
    public VehicleDescription? Vehicle { get; init; }

    public int Errors => Problems.Count(p => !p.IsWarning);

    public int Warnings => Problems.Count(p => p.IsWarning);
}

/// <summary>One thing that is wrong or odd in a file.</summary>
internal sealed record FileProblem
{
    /// <summary>True for what is odd but possible.</summary>
    public bool IsWarning { get; init; }

    /// <summary>What sort of problem, for programs; empty where the kind of file does not sort them.</summary>
    public string Kind { get; init; } = "";

    /// <summary>JSON path or column; empty for the whole file.</summary>
    public string Path { get; init; } = "";

    /// <summary>Line, counted from 1; 0 where unknown.</summary>
    public int Line { get; init; }

    /// <summary>Column, counted from 1; 0 where unknown.</summary>
    public int Column { get; init; }

    /// <summary>What stands there; empty where nothing does.</summary>
    public string Found { get; init; } = "";

    /// <summary>What would be right.</summary>
    public required string Right { get; init; }
}
