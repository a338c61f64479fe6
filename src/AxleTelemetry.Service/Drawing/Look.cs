using System.Globalization;

namespace AxleTelemetry.Service.Drawing;

/// <summary>How shapes of one name look, for every medium alike.</summary>
internal sealed record Look
{
    /// <summary>Colour of lines, <c>#rrggbb</c>; <c>null</c> for none.</summary>
    public string? Stroke { get; init; }

    public double Width { get; init; } = 1;

    /// <summary>Lengths of dash and gap; empty for a whole line.</summary>
    public IReadOnlyList<double> Dash { get; init; } = [];

    /// <summary>Colour of areas and letters, <c>#rrggbb</c>; <c>null</c> for none.</summary>
    public string? Fill { get; init; }

    public double Opacity { get; init; } = 1;

    public double Size { get; init; } = 12;

    public bool Bold { get; init; }

    public TextSide Side { get; init; }

    /// <summary>As a rule of a style sheet.</summary>
    public string Rule(string name)
    {
        var stroke = Stroke is null ? "" : string.Create(CultureInfo.InvariantCulture, $"stroke: {Stroke}; stroke-width: {Width}; {Dashes}");
        var letters = string.Create(CultureInfo.InvariantCulture, $"font-size: {Size}px; {(Bold ? "font-weight: bold; " : "")}text-anchor: {Anchor}");
        return string.Create(CultureInfo.InvariantCulture, $".{name} {{ fill: {Fill ?? "none"}; fill-opacity: {Opacity}; {stroke}{letters} }}");
    }

    private string Dashes => Dash.Count == 0 ? "" : $"stroke-dasharray: {string.Join(' ', Dash.Select(d => d.ToString(CultureInfo.InvariantCulture)))}; ";

    private string Anchor => Side switch
    {
        TextSide.Start => "start",
        TextSide.Middle => "middle",
        TextSide.End => "end",
        _ => throw new InvalidOperationException("A side that nobody handles."),
    };
}

/// <summary>Which side of a text is at its place.</summary>
internal enum TextSide
{
    Start,
    Middle,
    End,
}
