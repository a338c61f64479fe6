using AxleTelemetry.Messages.VehicleFiles;

namespace AxleTelemetry.Messages.Permits;

/// <summary>The file of permits as a table. The published schema says the same to editors; a test holds the two together.</summary>
internal static class PermitsShape
{
    private static readonly Form Key = new Form.Text(1, 64, IsKey: true);
    private static readonly Form Axles = new Form.List(new Form.Text(3, 129), 1, 32);
    private static readonly Form Day = new Form.Text(10, 10);

    private static readonly Shape Limit = new("limit",
    [
        Optional("axles", Axles),
        Optional("gross", Key),
        Optional("combination", new Form.Flag()),
        Needed("most_kg", new Form.Number(500, 1_000_000)),
        Optional("clause", new Form.Text(1, 100)),
    ]);

    private static readonly Shape Permit = new("permit",
    [
        Needed("id", Key),
        Needed("authority", new Form.Text(1, 200)),
        Needed("vehicles", new Form.List(Key, 1, 8)),
        Needed("countries", new Form.List(new Form.Text(2, 2), 1, 60)),
        Needed("from", Day),
        Needed("until", Day),
        Optional("most_speed_kmh", new Form.Number(5, 150)),
        Optional("lowered", Axles),
        Optional("obligations", new Form.List(new Form.Text(1, 400), 0, 40)),
        Needed("limits", new Form.List(new Form.Part(Limit), 1, 100)),
    ]);

    /// <summary>The whole file.</summary>
    public static Shape File { get; } = new("permits",
    [
        Optional("$schema", new Form.Text(0, 400)),
        Needed("permits", new Form.List(new Form.Part(Permit), 0, 1_000)),
    ]);

    private static Property Needed(string name, Form form) => new(name, form, Required: true);

    private static Property Optional(string name, Form form) => new(name, form, Required: false);
}
