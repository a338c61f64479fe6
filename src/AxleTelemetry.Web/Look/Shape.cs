using AxleTelemetry.Domain.Telling;
using AxleTelemetry.Web.Sight;

namespace AxleTelemetry.Web.Look;

/// <summary>Shapes that states are drawn with: colour is never alone.</summary>
public enum Shape
{
    /// <summary>Surely over; high.</summary>
    Square,

    /// <summary>Likely; medium.</summary>
    Triangle,

    /// <summary>Cannot tell.</summary>
    Diamond,

    /// <summary>Within limits.</summary>
    Disc,

    /// <summary>Near; low.</summary>
    Ring,

    /// <summary>Silent, put aside.</summary>
    Bars,

    /// <summary>Nothing to show.</summary>
    Dash,
}

/// <summary>Which shape and which class of the look a state has.</summary>
public static class Looks
{
    public static Shape ShapeOf(AlertPriority priority) => priority switch
    {
        AlertPriority.High => Shape.Square,
        AlertPriority.Medium => Shape.Triangle,
        AlertPriority.Low => Shape.Ring,
        _ => throw new ArgumentOutOfRangeException(nameof(priority), priority, "Unknown priority."),
    };

    public static Shape ShapeOf(Condition condition) => condition switch
    {
        Condition.Over => Shape.Square,
        Condition.LikelyOver => Shape.Triangle,
        Condition.CannotTell => Shape.Diamond,
        Condition.Near => Shape.Ring,
        Condition.Within => Shape.Disc,
        Condition.Silent => Shape.Bars,
        Condition.StandingOff or Condition.NoFigures or Condition.Behind or Condition.NeverHeard => Shape.Dash,
        _ => throw new ArgumentOutOfRangeException(nameof(condition), condition, "Unknown condition."),
    };

    /// <summary>The class of the style sheet: <c>over</c>, <c>likely</c>, <c>untold</c>, <c>near</c>, <c>within</c>, <c>quiet</c>, <c>off</c>.</summary>
    public static string ClassOf(Condition condition) => condition switch
    {
        Condition.Over => "over",
        Condition.LikelyOver => "likely",
        Condition.CannotTell => "untold",
        Condition.Near => "near",
        Condition.Within => "within",
        Condition.Silent => "quiet",
        Condition.StandingOff or Condition.NoFigures or Condition.Behind or Condition.NeverHeard => "off",
        _ => throw new ArgumentOutOfRangeException(nameof(condition), condition, "Unknown condition."),
    };

    public static string ClassOf(AlertPriority priority) => priority switch
    {
        AlertPriority.High => "over",
        AlertPriority.Medium => "likely",
        AlertPriority.Low => "near",
        _ => throw new ArgumentOutOfRangeException(nameof(priority), priority, "Unknown priority."),
    };
}
