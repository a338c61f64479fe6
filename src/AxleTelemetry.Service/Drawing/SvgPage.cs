using System.Globalization;
using System.Security;
using System.Text;

namespace AxleTelemetry.Service.Drawing;

/// <summary>An SVG document under construction: few shapes, classes for looks, text as text so that it can be searched and read aloud.</summary>
internal sealed class SvgPage
{
    private readonly StringBuilder _body = new();
    private readonly double _width;
    private readonly double _height;

    public SvgPage(double width, double height, string style, (string Title, string Description) words)
    {
        (_width, _height) = (width, height);
        _body.Append(CultureInfo.InvariantCulture, $"""
            <svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}" width="{width}" height="{height}" role="img" aria-labelledby="title desc">
            <title id="title">{Escaped(words.Title)}</title>
            <desc id="desc">{Escaped(words.Description)}</desc>
            <style>{style}</style>
            <rect class="paper" width="{width}" height="{height}"/>

            """);
    }

    public void Line(string look, (double X, double Y) from, (double X, double Y) to) => _body.AppendLine(
        CultureInfo.InvariantCulture, $"""<line class="{look}" x1="{from.X:0.##}" y1="{from.Y:0.##}" x2="{to.X:0.##}" y2="{to.Y:0.##}"/>""");

    public void Path(string look, IEnumerable<(double X, double Y)> points, bool closed = false)
    {
        var steps = string.Join(' ', points.Select(point => string.Create(CultureInfo.InvariantCulture, $"{point.X:0.##},{point.Y:0.##}")));
        _body.AppendLine(CultureInfo.InvariantCulture, $"""<{(closed ? "polygon" : "polyline")} class="{look}" points="{steps}"/>""");
    }

    public void Circle(string look, (double X, double Y) centre, double radius) => _body.AppendLine(
        CultureInfo.InvariantCulture, $"""<circle class="{look}" cx="{centre.X:0.##}" cy="{centre.Y:0.##}" r="{radius:0.##}"/>""");

    public void Text(string look, (double X, double Y) at, string text, double turned = 0)
    {
        var turn = turned == 0 ? "" : string.Create(CultureInfo.InvariantCulture, $" transform=\"rotate({turned} {at.X:0.##} {at.Y:0.##})\"");
        _body.AppendLine(CultureInfo.InvariantCulture, $"""<text class="{look}" x="{at.X:0.##}" y="{at.Y:0.##}"{turn}>{Escaped(text)}</text>""");
    }

    public override string ToString() => $"{_body}</svg>\n";

    /// <summary>Characters that XML cannot hold at all are left out; the rest is escaped.</summary>
    private static string Escaped(string text) => SecurityElement.Escape(string.Concat(text.Where(c => c >= ' ' && !char.IsSurrogate(c))));
}
