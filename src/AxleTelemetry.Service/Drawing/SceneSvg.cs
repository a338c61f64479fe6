namespace AxleTelemetry.Service.Drawing;

/// <summary>A scene as SVG.</summary>
internal static class SceneSvg
{
    private const string Letters = "text { paint-order: stroke; stroke: #fdfcf9; stroke-width: 3px; stroke-linejoin: round; font-family: 'DejaVu Sans', 'Helvetica Neue', Arial, sans-serif }";

    public static string Of(Scene scene)
    {
        var style = $"\n{Letters} .paper {{ fill: {ScenePaper.Colour} }}\n{string.Join('\n', scene.Looks.OrderBy(l => l.Key, StringComparer.Ordinal).Select(l => l.Value.Rule(l.Key)))}\n";
        var page = new SvgPage(scene.Size.Width, scene.Size.Height, style, scene.Words);
        foreach (var shape in scene.Shapes)
        {
            switch (shape)
            {
                case Shape.Path path:
                    page.Path(path.Look, path.Points, path.Closed);
                    break;
                case Shape.Circle circle:
                    page.Circle(circle.Look, circle.Centre, circle.Radius);
                    break;
                case Shape.Text text:
                    page.Text(text.Look, text.At, text.Words, text.Turned);
                    break;
                default:
                    throw new InvalidOperationException("A shape that nobody handles.");
            }
        }

        return page.ToString();
    }
}

/// <summary>What everything is drawn on.</summary>
internal static class ScenePaper
{
    public const string Colour = "#fdfcf9";
}
