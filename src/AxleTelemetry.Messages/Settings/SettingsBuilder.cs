using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Messages.VehicleFiles;

namespace AxleTelemetry.Messages.Settings;

/// <summary>Builds the settings from a file in which every check passed; what is not written takes its default.</summary>
internal static class SettingsBuilder
{
    public static ServiceSettings Build(Node root, BrokerSettings broker, HttpSettings http) => new()
    {
        DataDirectory = root.Text("data_directory")!,
        Broker = broker,
        Http = http,
        Fleets = [.. root.NamedParts("fleets").Select(f => Fleet(f.Name, f.Part)).OrderBy(f => f.Name, StringComparer.Ordinal)],
        Shards = [],
        Bounds = BoundsOf(root.Part("bounds")),
        AllowedClockSkew = TimeSpan.FromSeconds(root.Number("allowed_clock_skew_s") ?? 60),
    };

    private static FleetSettings Fleet(string name, Node node) => new()
    {
        Name = name,
        Vehicles = node.Text("vehicles")!,
        Tickets = [.. node.Texts("tickets").Select(t => t.Text)],
        Limits = node.Text("limits"),
        Assumptions = node.Text("assumptions"),
        Contacts = node.Text("contacts"),
        Permits = [.. node.Texts("permits").Select(t => t.Text)],
        Trip = new LimitContext { Trip = node.Word<TripKind>("trip") ?? TripKind.Unknown, Intermodal = node.Flag("intermodal") ?? false },
    };

    private static Bounds BoundsOf(Node? node)
    {
        var bounds = new Bounds();
        return node is null ? bounds : new Bounds
        {
            BytesInFlight = (long?)node.Number("bytes_in_flight") ?? bounds.BytesInFlight,
            RawDays = (int?)node.Number("raw_days") ?? bounds.RawDays,
            RegisterYears = (int?)node.Number("register_years") ?? bounds.RegisterYears,
        };
    }
}
