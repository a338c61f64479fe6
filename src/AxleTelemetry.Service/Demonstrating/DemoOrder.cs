using AxleTelemetry.Messages.Settings;

namespace AxleTelemetry.Service.Demonstrating;

/// <summary>What demonstration is asked for.</summary>
/// <param name="Seed">What everything is drawn from.</param>
/// <param name="Units">How many powered vehicles.</param>
/// <param name="Pages">Where pages are served.</param>
internal sealed record DemoOrder(ulong Seed, int Units, ListenAddress Pages)
{
    /// <summary>Directory to keep everything in; <c>null</c> for one that is deleted in the end.</summary>
    public string? Data { get; init; }

    /// <summary>File for the truth; <c>null</c> for none.</summary>
    public string? Truth { get; init; }
}
