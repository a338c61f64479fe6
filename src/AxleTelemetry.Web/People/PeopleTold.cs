using System.Collections.Immutable;
using System.Text.RegularExpressions;
using AxleTelemetry.Web.Accounts;
using AxleTelemetry.Web.Texts;

namespace AxleTelemetry.Web.People;

/// <summary>Words of rights and of what happened to accounts.</summary>
internal static partial class PeopleTold
{
    private static readonly ImmutableDictionary<string, string> Acts = Enum.GetValues<AccountAct>().ToImmutableDictionary(AccountLog.Word, a => Of(a));

    public static string Of(Right right) => right switch
    {
        Right.Look => PeopleWords.RightLook,
        Right.ReadRaw => PeopleWords.RightReadRaw,
        Right.Act => PeopleWords.RightAct,
        Right.Repair => PeopleWords.RightRepair,
        Right.SetUp => PeopleWords.RightSetUp,
        _ => throw new ArgumentOutOfRangeException(nameof(right), right, "Unknown right."),
    };

    public static string Of(AccountAct act) => act switch
    {
        AccountAct.SignedIn => PeopleWords.ActSignedIn,
        AccountAct.SignInFailed => PeopleWords.ActSignInFailed,
        AccountAct.LockedOut => PeopleWords.ActLockedOut,
        AccountAct.SignedOut => PeopleWords.ActSignedOut,
        AccountAct.PasswordChanged => PeopleWords.ActPasswordChanged,
        AccountAct.PasswordSetByLink => PeopleWords.ActPasswordSetByLink,
        AccountAct.LinkRefused => PeopleWords.ActLinkRefused,
        AccountAct.LinkMade => PeopleWords.ActLinkMade,
        AccountAct.PersonAdded => PeopleWords.ActPersonAdded,
        AccountAct.RolesSet => PeopleWords.ActRolesSet,
        AccountAct.Locked => PeopleWords.ActLocked,
        AccountAct.Unlocked => PeopleWords.ActUnlocked,
        AccountAct.TokenMade => PeopleWords.ActTokenMade,
        AccountAct.TokenRevoked => PeopleWords.ActTokenRevoked,
        AccountAct.FleetsSet => PeopleWords.ActFleetsSet,
        _ => throw new ArgumentOutOfRangeException(nameof(act), act, "Unknown act."),
    };

    public static string Of(ElsewhereRefusal why) => why switch
    {
        ElsewhereRefusal.Away => PeopleWords.ElsewhereAway,
        ElsewhereRefusal.Failed => PeopleWords.ElsewhereFailed,
        ElsewhereRefusal.NoRole => PeopleWords.ElsewhereNoRole,
        ElsewhereRefusal.NoName => PeopleWords.ElsewhereNoName,
        ElsewhereRefusal.NameTaken => PeopleWords.ElsewhereNameTaken,
        ElsewhereRefusal.Locked => PeopleWords.ElsewhereLocked,
        _ => throw new ArgumentOutOfRangeException(nameof(why), why, "Unknown refusal."),
    };

    /// <summary>Words of an act as it is kept; those of a later version are shown as they are.</summary>
    public static string Act(string word) => Acts.GetValueOrDefault(word, word);

    /// <summary>True for a name that a program may have; people's names follow the same rule.</summary>
    public static bool IsName(string text) => Name().IsMatch(text);

    [GeneratedRegex("^[A-Za-z0-9._@+-]{1,64}$")]
    private static partial Regex Name();
}
