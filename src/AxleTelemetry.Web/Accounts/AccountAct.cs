namespace AxleTelemetry.Web.Accounts;

/// <summary>What can happen to accounts.</summary>
public enum AccountAct
{
    SignedIn,
    SignInFailed,
    LockedOut,
    SignedOut,
    PasswordChanged,
    PasswordSetByLink,
    LinkRefused,
    LinkMade,
    PersonAdded,
    RolesSet,
    Locked,
    Unlocked,
    TokenMade,
    TokenRevoked,
    FleetsSet,
}
