using System.Collections.Immutable;
using System.Text.Json;
using System.Text.Json.Serialization;
using AxleTelemetry.Domain.Limits;

namespace AxleTelemetry.Service.Configuring;

/// <summary>
/// The canonical bytes of a configuration's sources: JSON in a fixed order, files in base64, since a file's bytes must come
/// back as they were even where they are no text. Kept for years: a change of layout raises <see cref="Format"/> and still reads the older ones.
/// </summary>
internal static class SnapshotText
{
    private const int Format = 1;

    private static readonly JsonSerializerOptions Layout = new()
    {
        PropertyNamingPolicy = JsonNamingPolicy.SnakeCaseLower,
        UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow,
        RespectRequiredConstructorParameters = true,
        RespectNullableAnnotations = true,
        AllowDuplicateProperties = false,
        Converters = { new JsonStringEnumConverter<TripKind>(JsonNamingPolicy.SnakeCaseLower, allowIntegerValues: false) },
    };

    /// <summary>The same bytes for the same sources, always.</summary>
    public static byte[] Write(ConfigurationSources sources) => JsonSerializer.SerializeToUtf8Bytes(
        new Snapshot(Format, (long)sources.AllowedClockSkew.TotalMilliseconds, [.. sources.Fleets.Select(f => new Fleet(
            f.Name, f.Trip.Trip, f.Trip.Intermodal, [.. f.Vehicles.Select(Of)], [.. f.Tickets.Select(Of)], Of(f.Limits), Of(f.Assumptions), f.MoreLimits.IsEmpty ? null : [.. f.MoreLimits.Select(Of)], f.Permits.IsEmpty ? null : [.. f.Permits.Select(Of)]))]),
        Layout);

    /// <summary>The sources, or <c>null</c> with what is wrong: bytes that this class did not write.</summary>
    public static ConfigurationSources? Read(ReadOnlySpan<byte> bytes, out string wrong)
    {
        wrong = "";
        try
        {
            if (JsonSerializer.Deserialize<Snapshot>(bytes, Layout) is { Format: Format } snapshot) return Of(snapshot);
            wrong = "The snapshot has a format that this release does not know.";
        }
        catch (JsonException broken)
        {
            wrong = $"The snapshot is damaged. {broken.Message}";
        }

        return null;
    }

    private static ConfigurationSources Of(Snapshot snapshot) => new(
        TimeSpan.FromMilliseconds(snapshot.AllowedClockSkewMs),
        [.. snapshot.Fleets.Select(f => new FleetSources
        {
            Name = f.Name,
            Trip = new LimitContext { Trip = f.Trip, Intermodal = f.Intermodal },
            Vehicles = [.. f.Vehicles.Select(Of)],
            Tickets = [.. f.Tickets.Select(Of)],
            Limits = Of(f.Limits),
            MoreLimits = [.. (f.MoreLimits ?? []).Select(Of)],
            Permits = [.. (f.Permits ?? []).Select(Of)],
            Assumptions = f.Assumptions is { } assumptions ? Of(assumptions) : FleetSources.Shipped,
        })]);

    private static Source Of(SourceText text) => new(text.Name, [.. text.Bytes]);

    private static SourceText Of(Source source) => new(source.Name, [.. source.Bytes]);

    private sealed record Snapshot(int Format, long AllowedClockSkewMs, ImmutableArray<Fleet> Fleets);

    private sealed record Fleet(string Name, TripKind Trip, bool Intermodal, ImmutableArray<Source> Vehicles, ImmutableArray<Source> Tickets, Source Limits, Source? Assumptions = null, Source[]? MoreLimits = null,
        [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] Source[]? Permits = null);

    private sealed record Source(string Name, byte[] Bytes);
}
