using System.Collections.Immutable;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Simulator.Journeys;

/// <summary>
/// Reads a journey from text that a fleet person can write and read: one thing a line, in three parts.
/// <code>
/// vehicle rigid-6x2-tag
/// calibration tickets
///
/// journey
/// load 9.5 t at 4.2 m
/// drive 12 km at 70 km/h
/// stop 20 min
/// lift tag raised
///
/// findings
/// </code>
/// Lines that begin with # are for people. What follows <c>findings</c> is not read here.
/// </summary>
public static class JourneyText
{
    /// <summary>Reads a journey; every line that is wrong is told.</summary>
    /// <param name="text">The text.</param>
    /// <param name="vehicles">Gives a vehicle by the name of its file, <c>null</c> where there is none.</param>
    public static JourneyResult Read(string text, Func<string, VehicleDescription?> vehicles)
    {
        var lines = text.ReplaceLineEndings("\n").Split('\n');
        int journey = Array.IndexOf(lines, "journey"), findings = Array.IndexOf(lines, "findings");
        if (findings < 0) findings = lines.Length;
        if (journey < 0 || journey > findings) return Refuse(new ScriptProblem(0, "A line 'journey' is missing, before the first step."));
        var problems = ImmutableArray.CreateBuilder<ScriptProblem>();
        var header = new HeaderReader(vehicles);
        EachLine(lines, 0, journey, problems, header.Read);
        if (problems.Count > 0) return new JourneyResult.Refused(problems.ToImmutable());
        if (header.Build(out var reason) is not { } begun) return Refuse(new ScriptProblem(0, reason));
        var steps = ImmutableArray.CreateBuilder<JourneyStep>();
        var reader = new StepReader(begun.Combination);
        var order = new StepOrder();
        EachLine(lines, journey + 1, findings, problems, words =>
        {
            if (reader.Read(words) is not { } step) return;
            if (order.Problem(step) is { } wrong) words.Refuse(wrong);
            steps.Add(step);
        });
        return problems.Count > 0
            ? new JourneyResult.Refused(problems.ToImmutable())
            : new JourneyResult.Accepted(begun with { Steps = steps.ToImmutable() }, [.. lines.Skip(findings + 1)]);
    }

    private static JourneyResult.Refused Refuse(ScriptProblem problem) => new([problem]);

    private static void EachLine(string[] lines, int from, int to, ImmutableArray<ScriptProblem>.Builder problems, Action<WordReader> read)
    {
        for (var i = from; i < to; i++)
        {
            var line = lines[i].Trim();
            if (line.Length == 0 || line[0] == '#') continue;
            var words = new WordReader(line);
            read(words);
            if (words.Problem is { } problem) problems.Add(new ScriptProblem(i + 1, problem));
        }
    }
}

/// <summary>What may follow what: loads change and ferries are boarded standing.</summary>
internal sealed class StepOrder
{
    private bool _rolls;

    public string? Problem(JourneyStep step)
    {
        if (step.Rolls) _rolls = true;
        else if (step is JourneyStep.Stand) _rolls = false;
        else if (_rolls && step is JourneyStep.Load) return "The load changes while standing: put a stop before it.";
        else if (_rolls && step is JourneyStep.Carry) return "A ferry is boarded standing: put a stop before it.";
        return null;
    }
}
