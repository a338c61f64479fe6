using System.Collections.Immutable;
using System.Text;
using AxleTelemetry.Service.Configuring;
using AxleTelemetry.Web.Accounts;
using AxleTelemetry.Web.People;

namespace AxleTelemetry.Service.Serving;

/// <summary>Tokens that stand outside <c>people.db</c>: that of the settings, and that of the commands on this machine.</summary>
internal static class KnownTokens
{
    /// <summary>What is done with the token of the settings is entered under this name.</summary>
    public const string OfSettings = "api_token_file";

    /// <summary>What a command does is entered under this name.</summary>
    public const string OfCommands = "command line";

    public static ImmutableArray<KnownToken> Of(ServiceConfiguration configuration) =>
    [
        .. Of(OfSettings, configuration.ApiToken, [Roles.Controller, Roles.Maintenance]),
        .. Of(OfCommands, configuration.CommandToken, [Roles.Maintenance]),
    ];

    private static ImmutableArray<KnownToken> Of(string name, Secret? token, ImmutableArray<string> roles) =>
        token is null ? [] : [new KnownToken(name, text => token.Matches(Encoding.UTF8.GetBytes(text)), roles)];
}
