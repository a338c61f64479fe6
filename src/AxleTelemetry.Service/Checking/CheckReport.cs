using System.Collections.Immutable;
using System.Text.Json;

namespace AxleTelemetry.Service.Checking;

/// <summary>Says what came of checking, to people or to programs.</summary>
internal static class CheckReport
{
    private static readonly JsonSerializerOptions Layout = new()
    {
        PropertyNamingPolicy = JsonNamingPolicy.SnakeCaseLower,
        WriteIndented = true,
        // File names and found values are read by people too; nothing here is put into a page.
        Encoder = System.Text.Encodings.Web.JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    };

    public static void WriteText(TextWriter output, ImmutableArray<CheckedFile> files)
    {
        foreach (var file in files)
        {
            output.WriteLine(Headline(file));
            foreach (var problem in file.Problems) Write(output, problem);
        }

        output.WriteLine();
        var bad = files.Count(f => f.Errors > 0);
        output.WriteLine($"{Count(files.Length, "file")}: {files.Length - bad} good, {bad} with errors. "
            + $"{Count(files.Sum(f => f.Errors), "error")}, {Count(files.Sum(f => f.Warnings), "warning")}.");
    }

    public static void WriteJson(TextWriter output, ImmutableArray<CheckedFile> files) => output.WriteLine(JsonSerializer.Serialize(
        new
        {
            files = files.Select(f => new
            {
                file = f.Name,
                f.Kind,
                f.Subject,
                problems = f.Problems.Select(p => new
                {
                    severity = p.IsWarning ? "warning" : "error",
                    p.Kind,
                    p.Path,
                    line = p.Line > 0 ? p.Line : (int?)null,
                    column = p.Column > 0 ? p.Column : (int?)null,
                    p.Found,
                    p.Right,
                }),
            }),
            errors = files.Sum(f => f.Errors),
            warnings = files.Sum(f => f.Warnings),
        },
        Layout));

    private static string Headline(CheckedFile file)
    {
        var what = file.Kind.Length == 0 ? "" : file.Subject.Length == 0 ? $"{file.Kind}, " : $"{file.Kind} {file.Subject}, ";
        var errors = file.Errors == 0 ? "good" : Count(file.Errors, "error");
        return $"{file.Name}: {what}{errors}{(file.Warnings == 0 ? "" : $", {Count(file.Warnings, "warning")}")}";
    }

    private static void Write(TextWriter output, FileProblem problem)
    {
        var place = problem switch
        {
            { Line: 0 } => "",
            { Column: 0 } => $"line {problem.Line}",
            _ => $"line {problem.Line}, column {problem.Column}",
        };
        var where = (problem.Path, place) switch
        {
            ("", "") => "whole file",
            ("", _) => place,
            (_, "") => problem.Path,
            _ => $"{problem.Path} ({place})",
        };
        output.WriteLine($"  {(problem.IsWarning ? "warning" : "error")} at {where}");
        if (problem.Found.Length > 0) output.WriteLine($"    found: {problem.Found}");
        output.WriteLine($"    {problem.Right}");
    }

    private static string Count(int count, string what) => $"{count} {what}{(count == 1 ? "" : "s")}";
}
