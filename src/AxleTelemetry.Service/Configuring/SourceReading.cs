using System.Collections.Immutable;
using AxleTelemetry.Messages.Limits;
using AxleTelemetry.Messages.Settings;
using AxleTelemetry.Service.Inputs;

namespace AxleTelemetry.Service.Configuring;

/// <summary>Reads the files of fleets as they are; what cannot be read goes to the list under the property that names it.</summary>
internal sealed class SourceReading(SettingsPlace place, List<InputProblem> errors)
{
    private const int MostBytes = 8 << 20;

    /// <summary>All that could be read.</summary>
    public ConfigurationSources Read(ServiceSettings settings) => Read(settings.AllowedClockSkew, settings.Fleets);

    /// <summary>All that could be read of some fleets.</summary>
    public ConfigurationSources Read(TimeSpan allowedClockSkew, IEnumerable<FleetSettings> fleets) => new(allowedClockSkew, [.. fleets.Select(Fleet)]);

    private FleetSources Fleet(FleetSettings fleet)
    {
        var path = fleet.Name.Contains('.', StringComparison.Ordinal) ? $"$.fleets['{fleet.Name}']" : $"$.fleets.{fleet.Name}";
        var limits = Limits(path + ".limits", fleet.Limits);
        return new()
        {
            Name = fleet.Name,
            Trip = fleet.Trip,
            Vehicles = Directory(path + ".vehicles", fleet.Vehicles),
            Tickets = Files(path + ".tickets", fleet.Tickets),
            Permits = Files(path + ".permits", fleet.Permits),
            Limits = limits[0],
            MoreLimits = limits[1..],
            Assumptions = (fleet.Assumptions is { } assumptions ? File(path + ".assumptions", assumptions) : null) ?? FleetSources.Shipped,
        };
    }

    private ImmutableArray<SourceText> Files(string path, ImmutableArray<string> files) =>
        [.. files.Select((file, i) => File(FormattableString.Invariant($"{path}[{i}]"), file)).OfType<SourceText>().OrderBy(t => t.Name, StringComparer.Ordinal)];

    // The shipped table also stands in for a file that cannot be read, so that only that is told.
    private ImmutableArray<SourceText> Limits(string path, string? file)
    {
        ImmutableArray<SourceText> read = file is null ? [.. LimitSetFile.BookNames.Select(Shipped)]
            : System.IO.Directory.Exists(place.Of(file)) ? Directory(path, file)
            : File(path, file) is { } one ? [one] : [];
        return read.IsEmpty ? [Shipped(LimitSetFile.Directive)] : read;
    }

    private static SourceText Shipped(string name) => new(name, [.. LimitSetFile.ShippedText(name)]);

    private ImmutableArray<SourceText> Directory(string path, string directory)
    {
        var full = place.Of(directory);
        if (!System.IO.Directory.Exists(full))
        {
            errors.Add(new(place.Settings, path, $"'{directory}'", System.IO.File.Exists(full)
                ? "This is a file. The directory of the vehicle files belongs here." : $"There is no such directory. Looked for at {Path.GetFullPath(full)}."));
            return [];
        }

        try
        {
            string[] names = [.. FileStamps.VehicleFiles(full).Select(f => Path.GetFileName(f)!)];
            if (names.Length == 0) errors.Add(new(place.Settings, path, $"'{directory}'", "The directory holds no .json file."));
            return [.. names.Select(name => File(path, Path.Combine(directory, name))).OfType<SourceText>().OrderBy(t => t.Name, StringComparer.Ordinal)];
        }
        catch (Exception unreadable) when (unreadable is IOException or UnauthorizedAccessException)
        {
            errors.Add(new(place.Settings, path, $"'{directory}'", $"The directory cannot be read. {unreadable.Message}"));
            return [];
        }
    }

    private SourceText? File(string path, string file)
    {
        try
        {
            // Refused before it is read: a file of this size is a slip of the hand.
            if (new FileInfo(place.Of(file)).Length is var length and > MostBytes)
                errors.Add(new(place.Settings, path, $"'{file}' with {length} bytes", $"A file of a fleet has at most {MostBytes} bytes."));
            else return new(file.Replace('\\', '/'), [.. System.IO.File.ReadAllBytes(place.Of(file))]);
        }
        catch (Exception unreadable) when (unreadable is IOException or UnauthorizedAccessException)
        {
            errors.Add(new(place.Settings, path, $"'{file}'", unreadable is FileNotFoundException or DirectoryNotFoundException
                ? $"There is no such file. Looked for at {Path.GetFullPath(place.Of(file))}." : $"The file cannot be read. {unreadable.Message}"));
        }

        return null;
    }
}
