using AxleTelemetry.Domain.Planning;
using AxleTelemetry.Domain.Wording;
using static System.FormattableString;

namespace AxleTelemetry.Service.Planning;

/// <summary>Stretches of a diagram in words.</summary>
internal static class StretchWords
{
    /// <summary>From, to, payload, what bounds it: the cells of one line.</summary>
    public static string[] Cells(DiagramStretch stretch, PlanNames names) => stretch switch
    {
        DiagramStretch.Open open => [Metres(open.From), Metres(open.To), Most(open), names.Of(open.Most.Limit), Least(open, names)],
        DiagramStretch.Shut shut => [Metres(shut.From), Metres(shut.To), "none", names.Of(shut.Passed.Limit), shut.With is { } with ? $"against {names.Of(with.Limit)}" : ""],
        _ => throw new InvalidOperationException("A stretch that nobody handles."),
    };

    private static string Most(DiagramStretch.Open open) => Range(open.Most.At(open.From), open.Most.At(open.To));

    private static string Least(DiagramStretch.Open open, PlanNames names) => open.Least is not { } least ? ""
        : $"at least {Range(least.At(open.From), least.At(open.To))} t by {names.Of(least.Limit)}";

    private static string Range(double first, double last) =>
        Amount.Number(first) is var from && Amount.Number(last) is var to && from == to ? from : $"{from} to {to}";

    private static string Metres(double value) => Invariant($"{value:0.00}");
}
