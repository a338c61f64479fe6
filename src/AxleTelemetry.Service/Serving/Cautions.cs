using System.Collections.Immutable;
using AxleTelemetry.Domain.Wording;

namespace AxleTelemetry.Service.Serving;

/// <summary>What must stand beside loads and limits, once in an answer.</summary>
internal static class Cautions
{
    public static ImmutableArray<string> Loads { get; } = [Sentences.Caution, Sentences.LimitCaution];
}
