using SkiaSharp;

namespace AxleTelemetry.Service.Drawing;

/// <summary>A scene as PNG, twice as fine as its units.</summary>
internal sealed class ScenePng
{
    private const int Fineness = 2;

    private readonly Scene _scene;
    private readonly SKCanvas _canvas;
    private readonly LetterFaces _faces;

    private ScenePng(Scene scene, SKCanvas canvas, LetterFaces faces) => (_scene, _canvas, _faces) = (scene, canvas, faces);

    public static byte[] Of(Scene scene, LetterFaces faces)
    {
        using var surface = SKSurface.Create(new SKImageInfo((int)(scene.Size.Width * Fineness), (int)(scene.Size.Height * Fineness)));
        surface.Canvas.Clear(SKColor.Parse(ScenePaper.Colour));
        surface.Canvas.Scale(Fineness);
        new ScenePng(scene, surface.Canvas, faces).Draw();
        using var image = surface.Snapshot();
        using var data = image.Encode(SKEncodedImageFormat.Png, 100);
        return data.ToArray();
    }

    private void Draw()
    {
        foreach (var shape in _scene.Shapes)
        {
            var look = _scene.Looks[shape.Look];
            switch (shape)
            {
                case Shape.Path path:
                    using (var line = Points(path)) Paint(look, paint => _canvas.DrawPath(line, paint));
                    break;
                case Shape.Circle circle:
                    Paint(look, paint => _canvas.DrawCircle((float)circle.Centre.X, (float)circle.Centre.Y, (float)circle.Radius, paint));
                    break;
                case Shape.Text text:
                    Letters(look, text);
                    break;
                default:
                    throw new InvalidOperationException("A shape that nobody handles.");
            }
        }
    }

    private static SKPath Points(Shape.Path path)
    {
        using var line = new SKPathBuilder();
        foreach (var (i, point) in path.Points.Index())
        {
            if (i == 0) line.MoveTo((float)point.X, (float)point.Y);
            else line.LineTo((float)point.X, (float)point.Y);
        }

        if (path.Closed) line.Close();
        return line.Detach();
    }

    private static void Paint(Look look, Action<SKPaint> draw)
    {
        if (look.Fill is { } fill)
        {
            using var area = new SKPaint { IsAntialias = true, Color = SKColor.Parse(fill).WithAlpha((byte)Math.Round(255 * look.Opacity)) };
            draw(area);
        }

        if (look.Stroke is not { } stroke) return;
        using var dash = look.Dash.Count == 0 ? null : SKPathEffect.CreateDash([.. look.Dash.Select(d => (float)d)], 0);
        using var line = new SKPaint { IsAntialias = true, Style = SKPaintStyle.Stroke, Color = SKColor.Parse(stroke), StrokeWidth = (float)look.Width, PathEffect = dash };
        draw(line);
    }

    /// <summary>Letters stand on a rim of paper, so that lines under them do not disturb.</summary>
    private void Letters(Look look, Shape.Text text)
    {
        using var font = new SKFont(look.Bold ? _faces.Bold : _faces.Plain, (float)look.Size) { Edging = SKFontEdging.Antialias };
        using var rim = new SKPaint { IsAntialias = true, Style = SKPaintStyle.Stroke, StrokeWidth = 3, StrokeJoin = SKStrokeJoin.Round, Color = SKColor.Parse(ScenePaper.Colour) };
        using var ink = new SKPaint { IsAntialias = true, Color = SKColor.Parse(look.Fill ?? "#000000") };
        var (x, y, side) = ((float)text.At.X, (float)text.At.Y, Align(look.Side));
        _canvas.Save();
        _canvas.RotateDegrees((float)text.Turned, x, y);
        _canvas.DrawText(text.Words, x, y, side, font, rim);
        _canvas.DrawText(text.Words, x, y, side, font, ink);
        _canvas.Restore();
    }

    private static SKTextAlign Align(TextSide side) => side switch
    {
        TextSide.Start => SKTextAlign.Left,
        TextSide.Middle => SKTextAlign.Center,
        TextSide.End => SKTextAlign.Right,
        _ => throw new InvalidOperationException("A side that nobody handles."),
    };
}
