using System.Collections.Immutable;

namespace AxleTelemetry.Service.Drawing;

/// <summary>One thing drawn.</summary>
internal abstract record Shape(string Look)
{
    /// <summary>A line through points; closed: an area.</summary>
    public sealed record Path(string Look, ImmutableArray<(double X, double Y)> Points, bool Closed) : Shape(Look);

    public sealed record Circle(string Look, (double X, double Y) Centre, double Radius) : Shape(Look);

    /// <summary>Words at the place of their base line, turned clockwise by degrees.</summary>
    public sealed record Text(string Look, (double X, double Y) At, string Words, double Turned) : Shape(Look);
}
