using System.Net;
using AxleTelemetry.Messages.Settings;
using AxleTelemetry.Service.Configuring;
using AxleTelemetry.Service.Receiving;
using AxleTelemetry.Service.Tests.Watching;

namespace AxleTelemetry.Service.Tests.Receiving;

public sealed class SecurityTests : IDisposable
{
    private const string Secret = "a quiet word 4711";

    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("security");

    public void Dispose() => _folder.Delete(recursive: true);

    [Fact]
    public async Task An_encrypted_broker_with_a_password_is_received_from_and_no_secret_is_told()
    {
        Mosquitto.SkipUnlessInstalled();
        var made = new Certificates(_folder.FullName);
        await using var broker = new Mosquitto($"certfile {made.CertificateFile}", $"keyfile {made.KeyFile}", $"password_file {await Passwords()}");
        await broker.Start();
        var options = Station.At(broker.Port) with { User = "service", PasswordFile = Written("password", Secret + "\n"), Tls = new TlsOptions { AuthorityFile = made.CertificateFile } };
        await using var station = new Station().Run(options);
        await station.UntilTold<ReceiverNotice.Connected>();
        Assert.DoesNotContain(Secret, options.ToString(), StringComparison.Ordinal);

        await using var wrong = new Station().Run(options with { ClientId = "other", PasswordFile = Written("wrong", "not " + Secret) });
        await wrong.UntilTold<ReceiverNotice.Troubled>();
        Assert.Contains("NotAuthorized", wrong.Told<ReceiverNotice.Troubled>()[0].Text, StringComparison.Ordinal);
        Assert.DoesNotContain(Secret, wrong.Told<ReceiverNotice.Troubled>()[0].Text, StringComparison.Ordinal);

        await using var missing = new Station().Run(options with { ClientId = "third", PasswordFile = Path.Combine(_folder.FullName, "nowhere") });
        await missing.UntilTold<ReceiverNotice.Troubled>();
        Assert.Contains("nowhere", missing.Told<ReceiverNotice.Troubled>()[0].Text, StringComparison.Ordinal);

        await using var distrusting = new Station().Run(options with { ClientId = "fourth", Tls = new TlsOptions() });
        await distrusting.UntilTold<ReceiverNotice.Troubled>();
        Assert.Contains("certificate", distrusting.Told<ReceiverNotice.Troubled>()[0].Text, StringComparison.Ordinal);
    }

    [Fact]
    public void The_embedded_broker_leaves_this_machine_only_with_an_access_list()
    {
        var open = new EmbeddedBrokerOptions { EndPoint = new IPEndPoint(IPAddress.Any, 0) };
        Assert.Equal(["The embedded broker may listen on 0.0.0.0 only with a list of devices and their passwords."], open.Problems());
        Assert.Empty((open with { Access = new AccessList(Devices, []) }).Problems());
        Assert.Empty(new EmbeddedBrokerOptions().Problems());
        var station = new Station();
        Assert.Throws<ArgumentException>(() => new EmbeddedBroker(open, station.Intake, station.Trace));
    }

    [Fact]
    public async Task A_device_sends_as_its_own_vehicle_and_reads_its_own_advice_and_nothing_else()
    {
        var access = new AccessList(Devices, [new AccessRule("example", "unit-1", "RT-01"), new AccessRule("example", "unit-2", "RT-02")]);
        using var certificate = new Certificates(_folder.FullName).Read();
        await using var station = new Station();
        await using var broker = new EmbeddedBroker(new EmbeddedBrokerOptions { EndPoint = new IPEndPoint(IPAddress.Loopback, 0), Access = access, Certificate = certificate }, station.Intake, station.Trace);
        await broker.StartAsync();
        Task<Device> Connect(string user, string password, string id) => Device.With(broker.EndPoint!.Port, options => options.WithCredentials(user, password).WithClientId(id)
            .WithTlsOptions(tls => tls.UseTls().WithCertificateValidationHandler(seen => seen.Certificate.GetCertHashString() == certificate.GetCertHashString())));

        await Assert.ThrowsAsync<UnauthorizedAccessException>(() => Connect("unit-1", "second word", "unit-1"));
        await Assert.ThrowsAsync<UnauthorizedAccessException>(() => Connect("unit-3", "first word", "unit-3"));
        await Assert.ThrowsAsync<UnauthorizedAccessException>(() => Connect("unit-1", "first word", "unit-2"));

        await using var device = await Connect("unit-1", "first word", "unit-1");
        var own = device.Send("own");
        station.Commit(await station.Take(1));
        Assert.True((await own).IsSuccess);

        var advice = await MQTTnet.MqttClientExtensions.SubscribeAsync(device.Client, "axles/v1/example/RT-01/advice", cancellationToken: TestContext.Current.CancellationToken);
        Assert.All(advice.Items, item => Assert.Equal(MQTTnet.MqttClientSubscribeResultCode.GrantedQoS0, item.ResultCode));
        var others = await MQTTnet.MqttClientExtensions.SubscribeAsync(device.Client, "axles/v1/example/#", cancellationToken: TestContext.Current.CancellationToken);
        Assert.All(others.Items, item => Assert.Equal(MQTTnet.MqttClientSubscribeResultCode.NotAuthorized, item.ResultCode));

        await Assert.ThrowsAnyAsync<Exception>(() => device.Send("another's", "axles/v1/example/RT-02/frame"));
        // Another device: the first may still be on its way out, and would take a second connection of its name with it.
        await using var other = await Connect("unit-2", "second word", "unit-2");
        await Assert.ThrowsAnyAsync<Exception>(() => other.Send("down", "axles/v1/example/RT-02/advice"));
        Assert.Equal(1, station.Trace.Received);
        Assert.Equal(6, station.Trace.Denied);
    }

    [Fact]
    public void A_rule_without_a_user_lets_each_device_act_for_the_vehicle_of_its_name_and_no_wildcard_passes()
    {
        var access = new AccessList(Devices, [new AccessRule("example", null, null)]);
        Assert.True(access.MaySend("unit-1", "axles/v1/example/unit-1/pressure"));
        Assert.False(access.MaySend("unit-1", "axles/v1/example/unit-2/pressure"));
        Assert.False(access.MaySend("unit-1", "axles/v1/other/unit-1/pressure"));
        Assert.False(access.MaySend(null, "axles/v1/example/unit-1/pressure"));
        Assert.True(access.MayRead("unit-1", "axles/v1/example/unit-1/advice"));
        Assert.All(["axles/v1/example/+/advice", "axles/v1/example/unit-1/+", "axles/v1/#", "#", "$share/a/axles/v1/example/unit-1/advice"], filter => Assert.False(access.MayRead("unit-1", filter)));
    }

    private static DeviceCredentials Devices => DeviceCredentials.Parse("unit-1:first word\nunit-2:second word\n", (_, _) => { })!;

    private string Written(string name, string text)
    {
        var file = Path.Combine(_folder.FullName, name);
        File.WriteAllText(file, text);
        return file;
    }

    private async Task<string> Passwords()
    {
        var file = Path.Combine(_folder.FullName, "passwords");
        await using var program = RunningProgram.Start("/usr/bin/mosquitto_passwd", "-b", "-c", file, "service", Secret);
        Assert.Equal(0, await program.Exit());
        return file;
    }
}
