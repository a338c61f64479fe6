using System.Text.Json;
using AxleTelemetry.Service.Configuring;
using AxleTelemetry.Service.Tests.Checking;

namespace AxleTelemetry.Service.Tests.Configuring;

public sealed class SecretTests : IDisposable
{
    private const string Password = "hunter2-hunter2", Token = "0123456789abcdef0123";

    private readonly ServiceFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void A_secret_is_read_from_its_file_and_shown_nowhere()
    {
        _folder.Write("password", Password + "\r\nanything\n");
        _folder.Write("token", Token);
        _folder.Settings("\"broker\": { \"host\": \"broker.example\", \"tls\": true, \"username\": \"u\", \"password_file\": \"password\" }, \"http\": { \"listen\": \"0.0.0.0:80\", \"api_token_file\": \"token\", \"public_address\": \"https://axles.example\" }");
        var loaded = _folder.Loaded();
        Assert.True(loaded.BrokerPassword!.Matches(System.Text.Encoding.UTF8.GetBytes(Password)));
        Assert.True(loaded.ApiToken!.Reveal().SequenceEqual("0123456789abcdef0123"u8));
        string[] shown = [loaded.ToString(), JsonSerializer.Serialize(loaded.BrokerPassword), $"{loaded.ApiToken}", loaded.Settings.ToString(), string.Join(' ', loaded.Warnings), Invocation.Of("check", _folder.SettingsFile).Output];
        Assert.All(shown, text => Assert.False(text.Contains(Password, StringComparison.Ordinal) || text.Contains(Token, StringComparison.Ordinal), text));
        Assert.Contains("BrokerPassword = (secret)", loaded.ToString(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("\"broker\": { \"host\": \"b.example\", \"tls\": true, \"username\": \"u\", \"password_file\": \"hunter2-hunter2\" }", "$.broker.password_file")]
    [InlineData("\"http\": { \"api_token_file\": \"hunter2-hunter2\" }", "$.http.api_token_file")]
    [InlineData("\"http\": { \"api_token_file\": \"short\" }", "$.http.api_token_file")]
    [InlineData("\"broker\": { \"host\": \"b.example\", \"tls\": true, \"username\": \"u\", \"password_file\": \"empty\" }", "$.broker.password_file")]
    [InlineData("\"broker\": { \"host\": \"b.example\", \"tls\": true, \"ca_file\": \"short\" }", "$.broker.ca_file")]
    [InlineData("\"broker\": { \"host\": \"b.example\", \"tls\": true, \"certificate_file\": \"short\", \"key_file\": \"short\" }", "$.broker.key_file")]
    [InlineData("\"embedded_broker\": { \"credentials_file\": \"devices\", \"access\": [{ \"fleet\": \"north\" }] }", "devices:2")]
    public void A_mistake_around_a_secret_is_told_without_it(string settings, string place)
    {
        _folder.Write("short", "hunter2");
        _folder.Write("empty", "\nhunter2\n");
        _folder.Write("devices", "TR-04:good enough\nTR 05:hunter2-hunter2\n");
        _folder.Settings(settings);
        var error = Assert.Single(_folder.Errors());
        Assert.Contains(place, error, StringComparison.Ordinal);
        Assert.DoesNotContain("hunter2", error, StringComparison.Ordinal);
        Assert.DoesNotContain("hunter2", Invocation.Of("check", _folder.SettingsFile).Output, StringComparison.Ordinal);
    }

    [Fact]
    public void A_secret_that_everybody_can_read_is_odd()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "No file modes there.");
        _folder.Write("token", Token);
        if (!OperatingSystem.IsWindows()) File.SetUnixFileMode(_folder.PathOf("token"), UnixFileMode.UserRead | UnixFileMode.OtherRead);
        _folder.Settings("\"http\": { \"api_token_file\": \"token\" }");
        Assert.Equal("$.http.api_token_file", Assert.Single(_folder.Loaded().Warnings).Path);
    }
}
