using System.Collections.Immutable;
using AxleTelemetry.Messages.VehicleFiles;

namespace AxleTelemetry.Messages.Settings;

/// <summary>Reads by whose sign-in people may come.</summary>
internal sealed class OpenIdReading(Problems problems)
{
    private const string UsualClaim = "roles";

    // What the roles are called is known to the pages; here they are words of the settings.
    private static readonly ImmutableArray<string> RoleNames = ["viewer", "controller", "maintenance", "compliance", "administrator"];

    /// <summary>The settings; <c>null</c> where there are none, or something is in error.</summary>
    public OpenIdSettings? Read(Node? node)
    {
        if (node?.Text("name") is not { } name || node.Text("client_id") is not { } client || node.Text("client_secret_file") is not { } secret) return null;
        var roles = node.NamedTexts("roles").ToImmutableSortedDictionary(r => r.Name, r => r.Texts.Select(t => t.Text).ToImmutableArray(), StringComparer.Ordinal);
        foreach (var role in roles.Keys.Except(RoleNames))
            problems.Add(ProblemKind.BadText, JsonPath.Of(node.PathOf("roles"), role), $"'{role}'", $"Right is one of {string.Join(", ", RoleNames)}.");
        return Authority(node) is { } authority ? new OpenIdSettings(name, authority, client, secret, node.Text("roles_claim") ?? UsualClaim, roles) : null;
    }

    private Uri? Authority(Node node)
    {
        if (node.Text("authority") is not { } text) return null;
        if (Uri.TryCreate(text, UriKind.Absolute, out var address) && (address.Scheme == Uri.UriSchemeHttps || address is { Scheme: "http", IsLoopback: true }) && address is { Query: "", Fragment: "", UserInfo: "" }) return address;
        problems.Add(ProblemKind.BadText, node.PathOf("authority"), $"'{text}'", "Right is the https address of the issuer, below which /.well-known/openid-configuration is found, for example https://sign-in.example/realm.");
        return null;
    }
}
