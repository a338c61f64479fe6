namespace AxleTelemetry.Service.Configuring;

/// <summary>Where a settings file is, and with it what its relative paths mean.</summary>
/// <param name="Settings">Path of the file as given.</param>
internal sealed record SettingsPlace(string Settings)
{
    /// <summary>The path that a name in the file means.</summary>
    public string Of(string name) => Path.Combine(Path.GetDirectoryName(Settings) ?? "", name);
}
