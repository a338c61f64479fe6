using AxleTelemetry.Messages.Settings;
using AxleTelemetry.Service.Configuring;
using AxleTelemetry.Service.Delivering;
using AxleTelemetry.Service.Tests.Crashing;
using Microsoft.Extensions.Time.Testing;

namespace AxleTelemetry.Service.Tests.Delivering;

/// <summary>Settings with a part for delivery, their secrets and a data directory.</summary>
internal sealed class Premise : IDisposable
{
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("axle-delivery-");

    public Premise()
    {
        Write("hook.secret", WebhookReceiver.Secret);
        Write("mail.password", "a mail password");
    }

    public string Data => Path.Combine(_folder.FullName, "data");

    public string Settings => Path.Combine(_folder.FullName, "axletelemetry.json");

    /// <summary>The settings with a part for delivery, read as the service reads them.</summary>
    /// <param name="delivery">That part; <c>null</c> to leave it out.</param>
    /// <param name="further">Further parts.</param>
    public ServiceConfiguration Configuration(string? delivery, string further = "")
    {
        File.WriteAllText(Settings, $$"""
            { "data_directory": "data", "fleets": { "north": { "vehicles": "{{ExampleFiles.Of("")}}" }, "south": { "vehicles": "{{ExampleFiles.Of("")}}" } }{{(delivery is null ? "" : $", \"delivery\": {delivery}")}}{{further}} }
            """);
        return ServiceReading.Read(Settings) switch
        {
            ServiceResult.Loaded loaded => loaded.Configuration,
            ServiceResult.Refused refused => throw new InvalidOperationException(string.Join('\n', refused.Errors)),
            var other => throw new InvalidOperationException($"{other}"),
        };
    }

    /// <summary>Who is told, opened and not started.</summary>
    public Deliveries Open(string delivery, TimeProvider clock)
    {
        var configuration = Configuration(delivery);
        return Deliveries.Open(configuration, configuration.Settings.Delivery!, clock);
    }

    /// <summary>A recipient by webhook, and a route to it for all.</summary>
    public static string Hook(string url) => $$"""{ "recipients": { "office": { "webhook": { "url": "{{url}}", "secret_file": "hook.secret" } } }, "routes": [{ "to": ["office"] }] }""";

    /// <summary>Waits for something while time goes on, so many seconds in a few milliseconds.</summary>
    public static Task Until(FakeTimeProvider clock, Func<bool> holds, Func<string> what, int seconds = 1) => Eventually.Holds(() =>
    {
        if (holds()) return true;
        clock.Advance(TimeSpan.FromSeconds(seconds));
        return false;
    }, what);

    public void Dispose() => _folder.Delete(recursive: true);

    private void Write(string name, string text)
    {
        var file = Path.Combine(_folder.FullName, name);
        File.WriteAllText(file, text + "\n");
        if (!OperatingSystem.IsWindows()) File.SetUnixFileMode(file, UnixFileMode.UserRead | UnixFileMode.UserWrite);
    }
}
