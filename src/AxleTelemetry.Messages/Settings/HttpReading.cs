using AxleTelemetry.Messages.VehicleFiles;

namespace AxleTelemetry.Messages.Settings;

/// <summary>Reads where pages are served, and holds that whoever lets others reach them has thought of how.</summary>
internal sealed class HttpReading(Problems problems)
{
    private const string DefaultListen = "127.0.0.1:8080";
    private const int UsualZoom = 18;

    /// <summary>The settings, or <c>null</c> where the address is in error.</summary>
    public HttpSettings? Read(Node? http)
    {
        var listen = Listen(problems, http, DefaultListen);
        var address = Address(http);
        // Where a token is set it is programs that are meant to come, and no password goes over the net.
        if (listen is { IsLoopback: false } && !http!.Has("public_address") && !http.Has("api_token_file"))
            problems.Add(ProblemKind.NeededWith, http.PathOf("public_address"), "",
                $"Others reach {listen}, so people would send passwords there: 'public_address' is needed, the https address of what speaks TLS in front of it; or 'api_token_file', where only programs come. Without either only {DefaultListen} or another port of this machine alone is right.");
        return listen is null ? null : new HttpSettings(listen, http?.Text("api_token_file")) 
        {
            PublicAddress = address, MapTiles = Tiles(http?.Part("map_tiles")), OpenId = new OpenIdReading(problems).Read(http?.Part("open_id")),
        };
    }

    private Uri? Address(Node? http)
    {
        if (http is null || !http.Has("public_address") || http.Text("public_address") is not { } text) return null;
        if (Uri.TryCreate(text, UriKind.Absolute, out var address) && address.Scheme == Uri.UriSchemeHttps && address is { PathAndQuery: "/", Fragment: "", UserInfo: "" }) return address;
        problems.Add(ProblemKind.BadText, http.PathOf("public_address"), $"'{text}'", "Right is an https address without a path, for example https://axles.example or https://axles.example:8443.");
        return null;
    }

    private MapTiles? Tiles(Node? node)
    {
        if (node?.Text("url") is not { } url || node.Text("attribution") is not { } attribution) return null;
        if (Array.TrueForAll<string>(["{z}", "{x}", "{y}"], url.Contains) && Uri.TryCreate(url.Replace("{z}", "0").Replace("{x}", "0").Replace("{y}", "0"), UriKind.Absolute, out var address)
            && (address.Scheme == Uri.UriSchemeHttps || address is { Scheme: "http", IsLoopback: true }) && address.UserInfo.Length == 0)
            return new MapTiles(url, attribution, (int?)node.Number("most_zoom") ?? UsualZoom);
        problems.Add(ProblemKind.BadText, node.PathOf("url"), $"'{url}'", "Right is an https address with {z}, {x} and {y} in its path, for example https://tiles.example/{z}/{x}/{y}.png.");
        return null;
    }

    /// <summary>The address of a part that listens; <c>null</c> with a problem where it is none.</summary>
    public static ListenAddress? Listen(Problems problems, Node? part, string otherwise)
    {
        if (part is null || !part.Has("listen")) return ListenAddress.Parse(otherwise);
        if (part.Text("listen") is not { } text) return null;
        if (ListenAddress.Parse(text) is { } address) return address;
        problems.Add(ProblemKind.BadText, part.PathOf("listen"), $"'{text}'", $"Right is {ListenAddress.Rule}.");
        return null;
    }
}
