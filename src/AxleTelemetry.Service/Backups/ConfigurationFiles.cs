using System.Collections.Immutable;
using AxleTelemetry.Messages.Settings;
using AxleTelemetry.Service.Configuring;

namespace AxleTelemetry.Service.Backups;

/// <summary>
/// The settings and what they name of fleets, laid out as they lie to each other, so that relative paths still hold. Secrets, keys and certificates are left out: a backup
/// is handed on, and they are not.
/// </summary>
internal sealed class ConfigurationFiles(string settings, ServiceConfiguration configuration)
{
    private readonly SettingsPlace _place = new(Path.GetFullPath(settings));

    /// <summary>Each file's path within a directory of their own, and its bytes as they were read.</summary>
    public ImmutableSortedDictionary<string, ReadOnlyMemory<byte>> All()
    {
        (string Path, ReadOnlyMemory<byte> Bytes)[] files = [(_place.Settings, configuration.Text.Bytes.AsMemory()), .. Sources().Select(s => (Path.GetFullPath(_place.Of(s.Name)), s.Bytes.AsMemory())), .. Contacts()];
        var above = files.Select(f => Path.GetDirectoryName(f.Path)!).Aggregate(Common);
        return files.DistinctBy(f => f.Path, StringComparer.Ordinal).ToImmutableSortedDictionary(f => Path.GetRelativePath(above, f.Path).Replace('\\', '/'), f => f.Bytes, StringComparer.Ordinal);
    }

    // What is shipped with the program needs no copy.
    private IEnumerable<SourceText> Sources() =>
        from fleet in configuration.Fleets.Sources.Fleets
        let named = configuration.Settings.Fleets.Single(f => f.Name == fleet.Name)
        from source in (SourceText[])
        [
            .. fleet.Vehicles, .. fleet.Tickets, .. fleet.Permits,
            .. named.Limits is null ? [] : fleet.MoreLimits.Insert(0, fleet.Limits),
            .. named.Assumptions is null ? [] : (SourceText[])[fleet.Assumptions],
        ]
        select source;

    private IEnumerable<(string, ReadOnlyMemory<byte>)> Contacts() =>
        configuration.Settings.Fleets.Select(f => f.Contacts).OfType<string>().Select(f => Path.GetFullPath(_place.Of(f))).Select(f => (f, (ReadOnlyMemory<byte>)File.ReadAllBytes(f)));

    private static string Common(string one, string other)
    {
        while (Path.GetRelativePath(one, other) is var way && (way.StartsWith("..", StringComparison.Ordinal) || Path.IsPathRooted(way)))
            one = Path.GetDirectoryName(one) ?? throw new IOException($"'{other}' lies on another drive than the settings: put the files of fleets on one.");
        return one;
    }
}
