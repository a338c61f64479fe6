using AxleTelemetry.Service.Receiving;
using AxleTelemetry.Service.Tests.Crashing;
using MQTTnet;

namespace AxleTelemetry.Deployment.Tests.Access;

/// <summary>A real broker as it is shipped, and certificates as the shipped script makes them.</summary>
public sealed class BrokerAccessTests
{
    private static readonly string[] Up = ["pressure", "lift", "condition", "position", "frame", "coupling", "presence"];

    [Fact]
    public async Task A_device_sends_as_its_own_vehicle_and_as_no_other()
    {
        Authority.SkipUnlessPossible();
        using var authority = await Devices();
        await using var broker = await ShippedBroker.Start(authority);
        await using var service = await Line.To(broker.ProgramsPort, authority.Of("service"), "axletelemetry-main");
        await service.Listen([.. Up.Select(stream => $"axles/v1/+/+/{stream}")]);
        var own = authority.OfDevice("demo/RT-01");
        foreach (var stream in Up)
        {
            await Denied(broker.VehiclesPort, own, $"axles/v1/demo/RT-02/{stream}");
            await Denied(broker.VehiclesPort, own, $"axles/v1/other/RT-01/{stream}");
        }

        foreach (var told in (string[])["axles/v1/demo/RT-01/advice", "axles/v1/demo/alerts", "axles/v1/demo/RT-01/other", "axles/v2/demo/RT-01/frame"]) await Denied(broker.VehiclesPort, own, told);
        await using var device = await Line.To(broker.VehiclesPort, own, "anything");
        foreach (var stream in Up) Assert.Equal(MqttClientPublishReasonCode.Success, await device.Send($"axles/v1/demo/RT-01/{stream}"));
        // What was denied was sent before what was not: it would have come first.
        await Eventually.Holds(() => service.Came.Count >= Up.Length, () => string.Join(' ', service.Came));
        Assert.Equal(Up.Select(stream => $"axles/v1/demo/RT-01/{stream}"), service.Came);
    }

    [Fact]
    public async Task A_device_reads_its_own_advice_and_nothing_of_others()
    {
        Authority.SkipUnlessPossible();
        using var authority = await Devices();
        await using var broker = await ShippedBroker.Start(authority);
        await using var device = await Line.To(broker.VehiclesPort, authority.OfDevice("demo/RT-01"), "anything");
        await using var other = await Line.To(broker.VehiclesPort, authority.OfDevice("demo/RT-02"), "anything");
        await device.Listen("#", "axles/v1/demo/RT-02/advice", "axles/v1/demo/RT-02/position", "axles/v1/demo/alerts", "axles/v1/demo/RT-01/advice");
        await using var service = await Line.To(broker.ProgramsPort, authority.Of("service"), "axletelemetry-main");
        Assert.Equal(MqttClientPublishReasonCode.Success, await other.Send("axles/v1/demo/RT-02/position"));
        Assert.Equal(MqttClientPublishReasonCode.Success, await service.Send("axles/v1/demo/alerts"));
        Assert.Equal(MqttClientPublishReasonCode.Success, await service.Send("axles/v1/demo/RT-02/advice"));
        Assert.Equal(MqttClientPublishReasonCode.Success, await service.Send("axles/v1/demo/RT-01/advice"));
        await Eventually.Holds(() => !device.Came.IsEmpty, () => "Its own advice did not come.");
        Assert.All(device.Came, topic => Assert.Equal("axles/v1/demo/RT-01/advice", topic));
    }

    [Fact]
    public async Task A_program_of_the_office_reads_alerts_of_all_fleets_or_of_the_one_it_is_named_by_and_sends_nothing()
    {
        Authority.SkipUnlessPossible();
        using var authority = await Devices();
        foreach (var name in (string[])["office", "demo"]) await authority.Do("program", name);
        await using var broker = await ShippedBroker.Start(authority);
        foreach (var port in (int[])[broker.VehiclesPort, broker.ProgramsPort])
        {
            await using var office = await Line.To(port, authority.Of("office"), "office");
            await using var ofDemo = await Line.To(port, authority.Of("demo"), "demo");
            await using var device = await Line.To(broker.VehiclesPort, authority.OfDevice("demo/RT-01"), "device");
            await using var service = await Line.To(broker.ProgramsPort, authority.Of("service"), "axletelemetry-main");
            foreach (var reader in (Line[])[office, ofDemo, device]) await reader.Listen("#", "axles/v1/+/alerts", "axles/v1/other/alerts", "axles/v1/demo/alerts");
            Assert.Equal(MqttClientPublishReasonCode.Success, await service.Send("axles/v1/demo/RT-01/advice"));
            Assert.NotEqual(MqttClientPublishReasonCode.NotAuthorized, await device.Send("axles/v1/demo/RT-01/position"));
            Assert.Equal(MqttClientPublishReasonCode.Success, await service.Send("axles/v1/other/alerts"));
            Assert.Equal(MqttClientPublishReasonCode.Success, await service.Send("axles/v1/demo/alerts"));
            await Eventually.Holds(() => ofDemo.Came.Contains("axles/v1/demo/alerts") && office.Came.Contains("axles/v1/demo/alerts"), () => $"{string.Join(' ', office.Came)}; {string.Join(' ', ofDemo.Came)}");
            // However many of the filters a message fits, it is of these topics.
            Assert.Equal(["axles/v1/demo/alerts", "axles/v1/other/alerts"], office.Came.Distinct().Order(StringComparer.Ordinal));
            Assert.Equal(["axles/v1/demo/alerts"], ofDemo.Came.Distinct());
            Assert.All(device.Came, topic => Assert.Equal("axles/v1/demo/RT-01/advice", topic));
        }

        foreach (var name in (string[])["office", "demo"])
            foreach (var topic in (string[])["axles/v1/demo/alerts", "axles/v1/demo/RT-01/frame", "axles/v1/demo/RT-01/advice"]) await Denied(broker.ProgramsPort, authority.Of(name), topic);
    }

    [Fact]
    public async Task The_service_sends_as_no_vehicle_and_a_simulator_only_as_vehicles()
    {
        Authority.SkipUnlessPossible();
        using var authority = await Devices();
        await authority.Do("program", "simulator");
        await using var broker = await ShippedBroker.Start(authority);
        await Denied(broker.ProgramsPort, authority.Of("service"), "axles/v1/demo/RT-01/frame");
        await using var simulator = await Line.To(broker.ProgramsPort, authority.Of("simulator"), "simulator");
        Assert.NotEqual(MqttClientPublishReasonCode.NotAuthorized, await simulator.Send("axles/v1/demo/RT-01/frame"));
        await Denied(broker.ProgramsPort, authority.Of("simulator"), "axles/v1/demo/RT-01/advice");
    }

    [Fact]
    public async Task Whatever_a_device_calls_itself_it_takes_nobodys_session()
    {
        Authority.SkipUnlessPossible();
        using var authority = await Devices();
        await using var broker = await ShippedBroker.Start(authority);
        await using var first = await Line.To(broker.VehiclesPort, authority.OfDevice("demo/RT-01"), "demo/RT-01");
        await using var second = await Line.To(broker.VehiclesPort, authority.OfDevice("demo/RT-02"), "demo/RT-01");
        Assert.NotEqual(MqttClientPublishReasonCode.NotAuthorized, await second.Send("axles/v1/demo/RT-02/frame"));
        Assert.NotEqual(MqttClientPublishReasonCode.NotAuthorized, await first.Send("axles/v1/demo/RT-01/frame"));
        Assert.True(first.IsOpen && second.IsOpen);
        // Its own it does take over, under whatever name.
        await using var again = await Line.To(broker.VehiclesPort, authority.OfDevice("demo/RT-01"), "another name");
        await Eventually.Holds(() => !first.IsOpen, () => "Two connections of one device were kept.");
    }

    [Fact]
    public async Task Without_a_certificate_of_this_authority_in_force_nobody_comes_in()
    {
        Authority.SkipUnlessPossible();
        using var authority = await Devices();
        using var stranger = await Devices();
        await using var broker = await ShippedBroker.Start(authority);
        var good = authority.OfDevice("demo/RT-01");
        foreach (var port in (int[])[broker.VehiclesPort, broker.ProgramsPort])
        {
            await Refused(port, good with { CertificateFile = null, KeyFile = null });
            await Refused(port, stranger.OfDevice("demo/RT-01") with { AuthorityFile = good.AuthorityFile });
        }

        await using (var device = await Line.To(broker.VehiclesPort, good, "a")) Assert.True(device.IsOpen);
        await authority.Do("revoke", "demo/RT-01");
        await broker.Reload();
        await using var other = await Line.To(broker.VehiclesPort, authority.OfDevice("demo/RT-02"), "b");
        await Refused(broker.VehiclesPort, good);
        // The broker is told from another one by the same authority.
        await Assert.ThrowsAnyAsync<Exception>(() => Line.To(broker.VehiclesPort, authority.OfDevice("demo/RT-02") with { AuthorityFile = stranger.FileOf("ca.pem") }, "c"));
    }

    /// <summary>On a connection of its own: some brokers close one on which they denied something.</summary>
    private static async Task Denied(int port, TlsOptions tls, string topic)
    {
        await using var line = await Line.To(port, tls, "denied");
        Assert.Equal((topic, MqttClientPublishReasonCode.NotAuthorized), (topic, await line.Send(topic)));
    }

    private static async Task<Authority> Devices()
    {
        var authority = await Authority.Make();
        foreach (var vehicle in (string[])["demo/RT-01", "demo/RT-02"]) await authority.Do("device", vehicle);
        await authority.Do("program", "service");
        return authority;
    }

    /// <summary>By TLS 1.3 a client learns only after its own greeting that it is not let in.</summary>
    private static Task Refused(int port, TlsOptions tls) => Assert.ThrowsAnyAsync<Exception>(async () =>
    {
        await using var line = await Line.To(port, tls, "refused");
        await line.Send("axles/v1/demo/RT-01/frame");
    });
}
