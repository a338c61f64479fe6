using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Simulator.Journeys;

namespace AxleTelemetry.Domain.Tests.Scenarios;

/// <summary>A journey played into a lane.</summary>
internal sealed class Scenario
{
    private readonly JourneyScript _script;

    public Scenario(JourneyScript script)
    {
        _script = script;
        Lane = new Lane(new LaneSetup(script.Combination, script.Fits,
            configuration => MarginTable.For(script.Combination, configuration, Repository.Limits, script.Trip)));
    }

    public Lane Lane { get; }

    /// <summary>What was said, with the truth of that moment.</summary>
    public List<(LaneOutput Output, Truth Truth)> Said { get; } = [];

    /// <summary>Plays to the end; returns the lines.</summary>
    public ImmutableArray<string> Play()
    {
        var lines = ImmutableArray.CreateBuilder<string>();
        var write = new FindingLine(Lane, _script.Start);
        JourneyMoment? last = null;
        var outputs = new List<LaneOutput>();
        // One moment ahead of the lane: the readings are made as the journey goes.
        foreach (var (body, reading) in JourneyReadings.Of(_script, JourneyPlayer.Play(_script).Select(m => last = m)))
        {
            Lane.Step(body, reading, outputs);
            if (outputs.Count == 0) continue;
            var truth = new Truth(_script, last!);
            foreach (var output in outputs.Where(o => o is not LaneOutput.Accounted))
            {
                Said.Add((output, truth));
                if (write.Of(output, truth) is { } line) lines.Add(line);
            }

            outputs.Clear();
        }

        lines.Add(write.End(last!.At, new Truth(_script, last!)));
        return lines.ToImmutable();
    }
}
