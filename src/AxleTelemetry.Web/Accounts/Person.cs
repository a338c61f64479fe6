using Microsoft.AspNetCore.Identity;

namespace AxleTelemetry.Web.Accounts;

/// <summary>Somebody who may sign in. The user name is what actions are entered under: it is never given to another.</summary>
public sealed class Person : IdentityUser
{
    /// <summary>Fleets that he answers for, with commas between them; empty for all.</summary>
    public string Fleets { get; set; } = "";

    /// <summary>An administrator has locked it, until one unlocks it.</summary>
    public bool IsLocked => LockoutEnd == DateTimeOffset.MaxValue;
}
