using AxleTelemetry.Service.Drawing;

namespace AxleTelemetry.Service.Planning;

/// <summary>Places names beside curves so that none stands on another: outside the curve, moved outward until there is room, with a thin line back.</summary>
internal sealed class PlanLabels(Scene scene, (double Left, double Right, double Top, double Bottom) page)
{
    private const double PerLetter = 6.4, Height = 14, Gap = 6, Mark = 8, Number = 20, Steep = 0.6;

    private readonly List<(double Left, double Top, double Right, double Bottom)> _taken = [];
    private IReadOnlyList<(double X, double Y)> _curve = [];

    /// <summary>About how wide words are.</summary>
    public static double Width(string words) => PerLetter * words.Length;

    /// <summary>Names of bounds above stand above all of this curve.</summary>
    public void Above(IReadOnlyList<(double X, double Y)> curve) => _curve = curve;

    /// <summary>Keeps the place of a mark, and of the number beside it.</summary>
    public void Keep((double X, double Y) at, bool hasNumber) =>
        _taken.Add((at.X - Mark, at.Y - (hasNumber ? Number : Mark), at.X + (hasNumber ? Number : Mark), at.Y + Mark));

    /// <summary>Outside of a bound above: over a level one, to the left of a rising one, to the right of a falling one.</summary>
    public void Over((double X, double Y) at, ((double X, double Y) From, (double X, double Y) To) curve, string words)
    {
        var rise = (curve.From.Y - curve.To.Y) / Math.Max(1, curve.To.X - curve.From.X);
        var width = Width(words);
        // To a side only where there is room for it.
        var left = rise > Steep && at.X - Gap - width > page.Left;
        var right = rise < -Steep && at.X + Gap + width < page.Right;
        var x = left ? at.X - Gap : right ? at.X + Gap : Math.Clamp(at.X, page.Left + width / 2, page.Right - width / 2);
        var from = left ? x - width : right ? x : x - width / 2;
        var lowest = Math.Min(at.Y - Gap, Highest(from, from + width) - Gap);
        for (var y = lowest; y > page.Top + Height; y -= Height)
        {
            if (!Take((from, y - Height + 2, from + width, y + 2))) continue;
            if (lowest - y > 1 || at.Y - y > 2 * Height) scene.Line("leader", at, (left ? x - 4 : right ? x + 4 : x, y + 3));
            scene.Text(left ? "nameleft" : right ? "nameright" : "name", (x, y), words);
            return;
        }
    }

    /// <summary>Below a bound; over it where the axis is too near.</summary>
    public void Under(string look, (double X, double Y) at, string words)
    {
        var width = Width(words);
        var x = Math.Clamp(at.X, page.Left + width / 2, page.Right - width / 2);
        var y = at.Y + Gap + Height < page.Bottom ? at.Y + Gap + Height - 3 : at.Y - Gap;
        for (var step = 0; step < 4; step++, y -= Height)
        {
            if (!Take((x - width / 2, y - Height + 2, x + width / 2, y + 2))) continue;
            scene.Text(look, (x, y), words);
            return;
        }
    }

    private double Highest(double from, double to) => _curve.Where(p => p.X >= from - 4 && p.X <= to + 4).Select(p => p.Y).DefaultIfEmpty(double.PositiveInfinity).Min();

    private bool Take((double Left, double Top, double Right, double Bottom) box)
    {
        if (_taken.Any(t => t.Left < box.Right && box.Left < t.Right && t.Top < box.Bottom && box.Top < t.Bottom)) return false;
        _taken.Add(box);
        return true;
    }
}
