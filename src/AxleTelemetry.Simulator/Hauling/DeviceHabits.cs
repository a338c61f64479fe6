using AxleTelemetry.Simulator.Chance;

namespace AxleTelemetry.Simulator.Hauling;

/// <summary>How one device sends: the contract leaves it the choice.</summary>
/// <param name="Frames">True where everything of a moment goes into one frame; else each stream has messages and times of its own.</param>
/// <param name="Samples">Samples of a full message.</param>
/// <param name="MostSecondsHeld">How long a sample waits for a message to fill.</param>
/// <param name="Numbers">Whether messages are numbered.</param>
/// <param name="Boots">Whether they say which start of the device they come from.</param>
/// <param name="WheelSpeed">Whether it says what the wheels do.</param>
/// <param name="Fuel">Whether it says what is in the tank.</param>
/// <param name="TextTimes">Times as text; else as milliseconds.</param>
internal sealed record DeviceHabits(
    bool Frames, int Samples, int MostSecondsHeld, bool Numbers, bool Boots, bool WheelSpeed, bool Fuel, bool TextTimes)
{
    public static DeviceHabits Draw(SeededRandom random) => new(
        random.Chance(0.6), random.Pick(1, 5, 10, 30, 60), random.Pick(30, 60), random.Chance(0.8), random.Chance(0.7),
        random.Chance(0.5), random.Chance(0.4), random.Chance(0.3));
}
