using System.Collections.Immutable;
using AxleTelemetry.Messages.Settings;
using AxleTelemetry.Service.Configuring;
using AxleTelemetry.Service.Inputs;

namespace AxleTelemetry.Service.Checking;

/// <summary>Checks a settings file, and where it is good itself everything that it names.</summary>
internal static class SettingsCheck
{
    public static CheckedFile Run(FileText text)
    {
        var result = SettingsFile.Parse(text.Bytes);
        ImmutableArray<FileProblem> own = [.. result.Problems.Select(p => new FileProblem
        {
            IsWarning = p.IsWarning, Kind = p.Kind.ToString(), Path = p.Path, Line = p.Place.Line, Column = p.Place.Column, Found = p.Found, Right = p.Right,
        })];
        if (result is not SettingsResult.Accepted) return new("", "", "", own);
        return ServiceReading.Read(text.Name) switch
        {
            ServiceResult.Loaded loaded => new("", "", Subject(loaded.Configuration.Fleets), [.. own, .. Others(text, own, loaded.Configuration.Warnings, isWarning: true)]),
            ServiceResult.Refused refused => new("", "", "", [.. Others(text, own, refused.Errors, isWarning: false), .. own]),
            var other => throw new InvalidOperationException($"No case for {other.GetType().Name}."),
        };
    }

    private static string Subject(FleetConfiguration fleets) => FormattableString.Invariant(
        $"{string.Join(", ", fleets.Fleets.Select(f => FormattableString.Invariant($"{f.Name} ({f.Vehicles.Length})")))}, version {fleets.Version}");

    // The file's own are there already, with line and column.
    private static IEnumerable<FileProblem> Others(FileText text, ImmutableArray<FileProblem> own, ImmutableArray<InputProblem> problems, bool isWarning) =>
        problems.Where(p => !own.Any(o => o.Path == p.Path && o.Right == p.Right)).Select(p => new FileProblem
        {
            IsWarning = isWarning,
            Path = p.Source == text.Name ? p.Path : p.Path.Length == 0 ? p.Source : $"{p.Source}: {p.Path}",
            Found = p.Found,
            Right = p.Right,
        });
}
