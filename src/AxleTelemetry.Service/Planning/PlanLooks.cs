using System.Collections.Immutable;
using AxleTelemetry.Service.Drawing;

namespace AxleTelemetry.Service.Planning;

/// <summary>How a plan's picture looks: like print. Nothing is told by colour alone.</summary>
internal static class PlanLooks
{
    private const string Ink = "#2b2f33", Grey = "#5a6067", Blue = "#24516e", Red = "#a3261b", Brown = "#6d6555";

    public static ImmutableDictionary<string, Look> All { get; } = new Dictionary<string, Look>
    {
        ["title"] = new() { Fill = Ink, Size = 17, Bold = true },
        ["head"] = new() { Fill = Ink, Size = 13, Bold = true },
        ["sub"] = new() { Fill = Grey },
        ["text"] = new() { Fill = Ink },
        ["middle"] = new() { Fill = Ink, Side = TextSide.Middle },
        ["end"] = new() { Fill = Ink, Side = TextSide.End },
        ["small"] = new() { Fill = Grey, Size = 10.5, Side = TextSide.Middle },
        ["smallend"] = new() { Fill = Grey, Size = 10.5, Side = TextSide.End },
        ["name"] = new() { Fill = Blue, Size = 11.5, Side = TextSide.Middle },
        ["nameleft"] = new() { Fill = Blue, Size = 11.5, Side = TextSide.End },
        ["nameright"] = new() { Fill = Blue, Size = 11.5 },
        ["housename"] = new() { Fill = Brown, Size = 11.5, Side = TextSide.Middle },
        ["grid"] = new() { Stroke = "#e6e2d9" },
        ["axis"] = new() { Stroke = Ink },
        ["room"] = new() { Fill = Blue, Opacity = 0.09 },
        ["most"] = new() { Stroke = Blue, Width = 2.2 },
        ["least"] = new() { Stroke = Blue, Width = 1.6, Dash = [7, 4] },
        ["house"] = new() { Stroke = Brown, Width = 1.4, Dash = [8, 3, 2, 3] },
        ["turn"] = new() { Stroke = Blue, Fill = "#fdfcf9", Width = 1.2 },
        ["leader"] = new() { Stroke = Grey, Width = 0.7 },
        ["shut"] = new() { Stroke = "#b9b2a3", Width = 0.9 },
        ["edge"] = new() { Stroke = Ink, Width = 1.1, Fill = Ink, Opacity = 0.08 },
        ["path"] = new() { Stroke = Ink, Width = 1, Dash = [2, 3] },
        ["good"] = new() { Stroke = Ink, Width = 1.6, Fill = "#fdfcf9" },
        ["bad"] = new() { Stroke = Red, Width = 2.2 },
        ["stage"] = new() { Fill = Ink, Size = 11.5, Bold = true },
        ["badstage"] = new() { Fill = Red, Size = 11.5, Bold = true },
        ["wheel"] = new() { Stroke = Ink, Width = 2, Fill = "#fdfcf9" },
        ["lifted"] = new() { Stroke = Grey, Width = 1.2, Fill = "#fdfcf9", Dash = [2, 2] },
    }.ToImmutableDictionary();
}
