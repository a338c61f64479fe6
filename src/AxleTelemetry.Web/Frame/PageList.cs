using System.Collections.Immutable;
using AxleTelemetry.Web.People;
using AxleTelemetry.Web.Texts;

namespace AxleTelemetry.Web.Frame;

/// <summary>A page in the frame.</summary>
/// <param name="Name">What it is called.</param>
/// <param name="Address">Where it is; <c>null</c> while it is not there yet.</param>
/// <param name="Needs">What one must be allowed to see it.</param>
internal sealed record PageEntry(string Name, string? Address, Right Needs = Right.Look)
{
    /// <summary>The nine pages, in the order of a working day.</summary>
    public static ImmutableArray<PageEntry> All { get; } =
    [
        new(Words.PageNow, "/now"),
        new(Words.PageVehicles, "/vehicles"),
        new(Words.PagePlanner, "/planner"),
        new(Words.PageRegister, "/register"),
        new(Words.PageExposure, null),
        new(Words.PageAccount, null),
        new(Words.PageInstruments, null),
        new(Words.PageCalibration, null),
        new(Words.PageSetUp, "/set-up", Right.SetUp),
    ];
}
