using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Messages.VehicleFiles;

namespace AxleTelemetry.Messages.Settings;

/// <summary>The settings file as a table. The published schema says the same to editors; a test holds the two together.</summary>
internal static class SettingsShape
{
    /// <summary>The most fleets, and so the most shards.</summary>
    public const int MostFleets = 1_000;

    private static readonly Form Key = new Form.Text(1, 64, IsKey: true);
    private static readonly Form Path = new Form.Text(1, 1_000);
    private static readonly Form Address = new Form.Text(1, 100);
    private static readonly Form Flag = new Form.Flag();

    private static readonly Shape Broker = new("broker",
    [
        Needed("host", new Form.Text(1, 255)),
        Optional("port", new Form.Number(1, 65_535, Whole: true)),
        Optional("tls", Flag),
        Optional("ca_file", Path),
        Optional("certificate_file", Path),
        Optional("key_file", Path),
        Optional("username", new Form.Text(1, 200)),
        Optional("password_file", Path),
        Optional("client_id", new Form.Text(1, 64, IsKey: true)),
        // 0 would end the session at every disconnect, and with it what the broker keeps for us.
        Optional("session_expiry_s", new Form.Number(60, 31_536_000, Whole: true)),
    ]);

    private static readonly Shape Access = new("access",
    [
        Needed("fleet", Key),
        Optional("user", new Form.Text(1, 64, IsKey: true)),
        Optional("vehicle", Key),
    ]);

    private static readonly Shape EmbeddedBroker = new("embedded_broker",
    [
        Optional("listen", Address),
        Optional("credentials_file", Path),
        Optional("access", new Form.List(new Form.Part(Access), 1, 2_000)),
    ]);

    private static readonly Shape MapTiles = new("map_tiles",
    [
        Needed("url", new Form.Text(8, 500)),
        Needed("attribution", new Form.Text(1, 300)),
        Optional("most_zoom", new Form.Number(1, 22, Whole: true)),
    ]);

    private static readonly Shape OpenId = new("open_id",
    [
        Needed("name", new Form.Text(1, 60)),
        Needed("authority", new Form.Text(8, 300)),
        Needed("client_id", new Form.Text(1, 200)),
        Needed("client_secret_file", Path),
        Optional("roles_claim", new Form.Text(1, 100)),
        Needed("roles", new Form.Named(new Form.List(new Form.Text(1, 200), 1, 50), 1, 10)),
    ]);

    private static readonly Shape Http = new("http",
    [
        Optional("listen", Address),
        Optional("api_token_file", Path),
        Optional("public_address", new Form.Text(1, 300)),
        Optional("map_tiles", new Form.Part(MapTiles)),
        Optional("open_id", new Form.Part(OpenId)),
    ]);

    private static readonly Shape Series = new("series",
    [
        Needed("url", new Form.Text(8, 300)),
        Needed("organisation", new Form.Text(1, 100)),
        Needed("bucket", new Form.Text(1, 100)),
        Needed("token_file", Path),
    ]);

    private static readonly Shape Fleet = new("fleet",
    [
        Needed("vehicles", Path),
        Optional("tickets", new Form.List(Path, 0, 100)),
        Optional("limits", Path),
        Optional("assumptions", Path),
        Optional("permits", new Form.List(Path, 0, 100)),
        Optional("contacts", Path),
        Optional("trip", new Form.Choice(Words.Of<TripKind>())),
        Optional("intermodal", Flag),
    ]);

    private static readonly Shape BoundsShape = new("bounds",
    [
        Optional("bytes_in_flight", new Form.Number(1 << 20, 4L << 30, Whole: true)),
        Optional("raw_days", new Form.Number(1, 3_650, Whole: true)),
        Optional("register_years", new Form.Number(1, 30, Whole: true)),
    ]);

    /// <summary>The whole file.</summary>
    public static Shape Settings { get; } = new("settings",
    [
        Optional("$schema", new Form.Text(0, 400)),
        Needed("data_directory", Path),
        Optional("broker", new Form.Part(Broker)),
        Optional("embedded_broker", new Form.Part(EmbeddedBroker)),
        Optional("http", new Form.Part(Http)),
        Optional("series", new Form.Part(Series)),
        Optional("delivery", new Form.Part(DeliveryShape.Delivery)),
        Needed("fleets", new Form.Named(new Form.Part(Fleet), 1, MostFleets)),
        Optional("shards", new Form.Named(new Form.List(Key, 1, MostFleets), 1, MostFleets)),
        Optional("bounds", new Form.Part(BoundsShape)),
        Optional("allowed_clock_skew_s", new Form.Number(1, 3_600)),
    ]);

    private static Property Needed(string name, Form form) => new(name, form, Required: true);

    private static Property Optional(string name, Form form) => new(name, form, Required: false);
}
