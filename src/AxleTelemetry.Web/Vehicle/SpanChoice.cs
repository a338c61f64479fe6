using System.Collections.Immutable;
using AxleTelemetry.Web.Look;
using AxleTelemetry.Web.Texts;

namespace AxleTelemetry.Web.Vehicle;

/// <summary>How far back one looks.</summary>
/// <param name="Name">In the address.</param>
/// <param name="Words">For people.</param>
/// <param name="Seconds">How long.</param>
internal sealed record SpanChoice(string Name, string Words, double Seconds)
{
    private const double Hour = 3600, Day = 24 * Hour;

    public static ImmutableArray<SpanChoice> All { get; } =
    [
        new("1h", Told.With(Texts.Words.ForHours, 1), Hour),
        new("8h", Told.With(Texts.Words.ForHours, 8), 8 * Hour),
        new("24h", Told.With(Texts.Words.ForHours, 24), Day),
        new("7d", Told.With(Texts.Words.ForDays, 7), 7 * Day),
        new("30d", Told.With(Texts.Words.ForDays, 30), 30 * Day),
    ];

    public static SpanChoice Usual => All[1];

    public static SpanChoice? Of(string? name) => All.FirstOrDefault(s => s.Name == name);
}
