using System.Collections.Immutable;
using AxleTelemetry.Domain.Telling;

namespace AxleTelemetry.Web.Sight;

/// <summary>The present, as the service knows it. For any thread.</summary>
public interface INowSight
{
    /// <summary>The latest picture.</summary>
    NowPicture Now { get; }

    /// <summary>The fleets of the settings, in the order of their names.</summary>
    ImmutableArray<string> Fleets { get; }

    /// <summary>Begins to look, or goes on: pictures are taken while somebody looks, and a little longer. Dispose it when done.</summary>
    IDisposable Watch();

    /// <summary>Waits for a picture later than one.</summary>
    Task<NowPicture> AfterAsync(long number, CancellationToken cancel);

    /// <summary>Whom an alert is still to reach; cheap.</summary>
    ImmutableArray<AwaitedContact> Awaited(string alert);

    /// <summary>A person's action on an alert, committed before this returns.</summary>
    /// <returns>Why it was not taken, in a sentence; <c>null</c> where it was.</returns>
    Task<string?> ActAsync(string alert, OperatorAction action, CancellationToken cancel);
}
