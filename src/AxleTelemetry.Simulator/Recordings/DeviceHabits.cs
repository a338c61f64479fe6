using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Simulator.Chance;

namespace AxleTelemetry.Simulator.Recordings;

/// <summary>How one device sends: the contract leaves it the choice.</summary>
internal sealed record DeviceHabits
{
    /// <summary>True where everything of a moment goes into one frame; else each stream has messages and times of its own.</summary>
    public required bool Frames { get; init; }

    /// <summary>Samples of its longest message.</summary>
    public required int MostSamples { get; init; }

    /// <summary>Seconds between samples.</summary>
    public required int EverySeconds { get; init; }

    /// <summary>Whether messages are numbered.</summary>
    public required bool Numbers { get; init; }

    /// <summary>Whether messages say which start of the device they come from.</summary>
    public required bool Boots { get; init; }

    /// <summary>Whether it says what the wheels do, as well as what the position does.</summary>
    public required bool WheelSpeed { get; init; }

    /// <summary>Times as text; else as milliseconds.</summary>
    public required bool TextTimes { get; init; }

    /// <summary>When the device starts anew, if it does.</summary>
    public required Moment? Restart { get; init; }

    public static DeviceHabits Draw(RecordingScene scene, SeededRandom random) => new()
    {
        Frames = random.Chance(0.5),
        MostSamples = random.Pick(1, 5, 10, 30, 30),
        EverySeconds = random.Pick(1, 1, 1, 2),
        Numbers = random.Chance(0.8),
        Boots = random.Chance(0.7),
        WheelSpeed = random.Chance(0.4),
        TextTimes = random.Chance(0.3),
        Restart = random.Chance(0.5) ? scene.Start.Plus(random.Whole(scene.Seconds / 4, scene.Seconds)) : null,
    };
}
