namespace AxleTelemetry.Service.Drawing;

/// <summary>A picture as shapes with the names of their looks, before any medium: what is printed, shown and exported is one layout.</summary>
internal sealed class Scene((double Width, double Height) size, (string Title, string Description) words, IReadOnlyDictionary<string, Look> looks)
{
    private readonly List<Shape> _shapes = [];

    public (double Width, double Height) Size => size;

    public (string Title, string Description) Words => words;

    public IReadOnlyDictionary<string, Look> Looks => looks;

    public IReadOnlyList<Shape> Shapes => _shapes;

    public void Line(string look, (double X, double Y) from, (double X, double Y) to) => _shapes.Add(new Shape.Path(Known(look), [from, to], false));

    public void Path(string look, IEnumerable<(double X, double Y)> points, bool closed = false) => _shapes.Add(new Shape.Path(Known(look), [.. points], closed));

    public void Circle(string look, (double X, double Y) centre, double radius) => _shapes.Add(new Shape.Circle(Known(look), centre, radius));

    public void Text(string look, (double X, double Y) at, string text, double turned = 0) => _shapes.Add(new Shape.Text(Known(look), at, text, turned));

    private string Known(string look) => looks.ContainsKey(look) ? look : throw new ArgumentException($"There is no look '{look}'.", nameof(look));
}
