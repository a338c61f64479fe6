using System.Collections.Immutable;
using System.Text;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Service.Configuring;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Service.Tests.Serving;

namespace AxleTelemetry.Service.Tests.Sharding;

/// <summary>Which configuration holds for a vehicle when.</summary>
public sealed class VehicleVersionsTests
{
    private static readonly VehicleName Rigid = new("north", "RT-01");

    [Theory]
    [InlineData("2026-02-04", 1)]
    [InlineData("2026-02-06", 1)]
    [InlineData("2026-02-12", 3)]
    [InlineData("2026-02-25", 3)]
    [InlineData("2026-05-12", 3)]
    public void A_ticket_entered_later_counts_from_its_weighing_on_but_not_under_the_limits_before(string day, int configuration)
    {
        var log = new ConfigurationLog();
        var versions = new SortedDictionary<Moment, int>();
        var first = Built(limits: "", weighings: ["weighing", "W1"]);
        Take(log.Add(1, FleetHistory.Beginning, first));
        Take(log.Add(2, At("2026-02-10"), Built(limits: "\n", weighings: ["weighing", "W1"])));
        Take(log.Add(3, At("2026-02-20"), Built(limits: "\n", weighings: [""])));
        Assert.Equal(configuration, VehicleVersions.Configuration(versions.Last(v => v.Key < At(day)).Value));

        void Take(ConfigurationLog.Entry entry)
        {
            foreach (var version in VehicleVersions.Brought(Rigid, entry, log))
                versions[version.From] = Math.Max(versions.GetValueOrDefault(version.From), version.Version);
        }
    }

    private static FleetConfiguration Built(string limits, string[] weighings)
    {
        var sources = RandomFleet.Configuration.Sources;
        var fleet = sources.Fleets.Single();
        var changed = fleet with
        {
            Limits = fleet.Limits with { Bytes = [.. fleet.Limits.Bytes, .. Encoding.UTF8.GetBytes(limits)] },
            Tickets = [.. fleet.Tickets.Select(t => t with { Bytes = Only(t.Bytes, weighings) })],
        };
        return Assert.IsType<ConfigurationResult.Built>(FleetConfiguration.Build(sources with { Fleets = [changed] })).Configuration;
    }

    private static ImmutableArray<byte> Only(ImmutableArray<byte> sheet, string[] starts) =>
        [.. Encoding.UTF8.GetBytes(string.Join('\n', Encoding.UTF8.GetString(sheet.AsSpan()).Split('\n').Where(l => starts.Any(s => l.StartsWith(s, StringComparison.Ordinal)))))];

    private static Moment At(string day) => Codes.At(DateTimeOffset.Parse(day + "T00:00:00Z", System.Globalization.CultureInfo.InvariantCulture));
}
