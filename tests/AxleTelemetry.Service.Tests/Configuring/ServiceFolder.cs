using AxleTelemetry.Service.Configuring;

namespace AxleTelemetry.Service.Tests.Configuring;

/// <summary>A directory with settings and one fleet, to be changed by a test.</summary>
internal sealed class ServiceFolder : IDisposable
{
    public const string Header = "weighing,time,vehicle,sensor,kpa,axle_kg,method,gross_kg,note\n";

    public const string Tickets = Header + "W1,2026-03-02T06:00:00Z,TR-04,drive,520,9000,axle,,\nW2,2026-04-03T06:00:00Z,TR-04,drive,300,5800,axle,,\n";

    private readonly string _root = Directory.CreateTempSubdirectory("service-").FullName;

    public ServiceFolder()
    {
        Directory.CreateDirectory(PathOf("north"));
        File.Copy(ExampleFiles.Tractor, PathOf("north/tractor.json"));
        File.Copy(ExampleFiles.SemiTrailer, PathOf("north/trailer.json"));
        Write("tickets.csv", Tickets);
        Settings("");
    }

    public string SettingsFile => PathOf("axletelemetry.json");

    public string PathOf(string name) => Path.Combine(_root, name);

    public void Write(string name, string text)
    {
        File.WriteAllText(PathOf(name), text);
        if (!OperatingSystem.IsWindows()) File.SetUnixFileMode(PathOf(name), UnixFileMode.UserRead | UnixFileMode.UserWrite);
    }

    public string Read(string name) => File.ReadAllText(PathOf(name));

    public void Replace(string name, string old, string now)
    {
        var text = Read(name);
        Assert.Contains(old, text, StringComparison.Ordinal);
        Write(name, text.Replace(old, now, StringComparison.Ordinal));
    }

    /// <summary>Settings with one fleet and what a test adds.</summary>
    public void Settings(string more, string fleets = "\"north\": { \"vehicles\": \"north\", \"tickets\": [\"tickets.csv\"] }") =>
        Write("axletelemetry.json", $"{{ \"data_directory\": \"data\",\n{more}{(more.Length > 0 ? "," : "")}\n\"fleets\": {{ {fleets} }} }}");

    public ServiceConfiguration Loaded() => ServiceReading.Read(SettingsFile) switch
    {
        ServiceResult.Loaded loaded => loaded.Configuration,
        ServiceResult.Refused refused => throw new Xunit.Sdk.XunitException(string.Join('\n', refused.Errors)),
        _ => throw new InvalidOperationException(),
    };

    public string[] Errors() => [.. Assert.IsType<ServiceResult.Refused>(ServiceReading.Read(SettingsFile)).Errors.Select(e => e.ToString())];

    public void Dispose() => Directory.Delete(_root, recursive: true);
}
