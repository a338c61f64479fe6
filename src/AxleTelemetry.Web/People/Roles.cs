using System.Collections.Immutable;

namespace AxleTelemetry.Web.People;

/// <summary>What people may be.</summary>
public static class Roles
{
    /// <summary>Looks.</summary>
    public const string Viewer = "viewer";

    /// <summary>Acts on alerts.</summary>
    public const string Controller = "controller";

    /// <summary>Looks after axles, tyres and sensors.</summary>
    public const string Maintenance = "maintenance";

    /// <summary>Answers for the register of overloads.</summary>
    public const string Compliance = "compliance";

    /// <summary>Sets up, and gives roles.</summary>
    public const string Administrator = "administrator";

    /// <summary>Who may act on alerts.</summary>
    public static string MayAct => string.Join(',', Rights.RolesWith(Right.Act));

    public static ImmutableArray<string> All { get; } = [Viewer, Controller, Maintenance, Compliance, Administrator];
}
