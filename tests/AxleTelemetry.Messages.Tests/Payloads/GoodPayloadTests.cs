using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Messages.Payloads;
using AxleTelemetry.Messages.Refusals;
using AxleTelemetry.Messages.Topics;
using static AxleTelemetry.Messages.Tests.Payloads.Decoded;

namespace AxleTelemetry.Messages.Tests.Payloads;

public class GoodPayloadTests
{
    [Fact]
    public void Pressure()
    {
        var message = From(UpStream.Pressure, """{"seq":1042,"samples":[{"t":"2026-03-02T06:14:05.000Z","kpa":{"drive":412.5,"tag":398.1}}]}""");
        Assert.Equal(0, message.Refusals.Total);
        Assert.Equal(1042, message.Sequence);
        Assert.Null(message.Boot);
        Assert.Equal(1, message.Samples);
        Assert.Equal([Decoded.Pressure(0, 412.5), Decoded.Pressure(1, 398.1)], message.Readings.ToArray());
    }

    [Fact]
    public void Lift()
    {
        var message = From(UpStream.Lift, """{"seq":17,"samples":[{"t":"2026-03-02T06:14:05.200Z","axles":{"tag":"raised"},"by":"driver"}]}""");
        Assert.Equal(0, message.Refusals.Total);
        Assert.Equal([Decoded.Lift(2, LiftReport.Raised) with { At = At.Plus(0.2), Value = new LiftWord(LiftReport.Raised, LiftBy.Driver).ToValue() }], message.Readings.ToArray());
    }

    [Theory]
    [InlineData("none", LiftReason.None)]
    [InlineData("grip", LiftReason.Grip)]
    [InlineData("clearance", LiftReason.Clearance)]
    [InlineData("workshop", LiftReason.Workshop)]
    [InlineData("other", LiftReason.Other)]
    public void Every_reason_has_its_word_and_may_stand_before_or_behind_the_axles(string word, LiftReason reason)
    {
        foreach (var fields in (string[])[$$"""
            "reason":"{{word}}","by":"driver","axles":{"drive":"lowered","tag":"raised"}
            """, $$"""
            "axles":{"drive":"lowered","tag":"raised"},"by":"driver","reason":"{{word}}"
            """])
            Assert.Equal([new LiftWord(LiftReport.Lowered, LiftBy.Driver, reason), new LiftWord(LiftReport.Raised, LiftBy.Driver, reason)],
                Sample(UpStream.Lift, fields).Readings.ToArray().Select(r => LiftWord.Of(r.Value)));
    }

    [Fact]
    public void A_reason_that_the_contract_does_not_know_refuses_itself_and_nothing_else()
    {
        foreach (var (bad, why) in ((string, RefusalReason)[])[("\"fun\"", RefusalReason.UnknownWord), ("7", RefusalReason.WrongType), ("{\"a\":[1]}", RefusalReason.WrongType)])
        {
            var message = Sample(UpStream.Lift, $$"""
                "axles":{"tag":"raised"},"by":{"who":["it"]},"reason":{{bad}}
                """);
            var refusal = message.OnlyRefusal();
            Assert.Equal((why, "samples[0].reason", "one of none, grip, clearance, workshop, other"), (refusal.Reason, refusal.Field, refusal.Right));
            Assert.Equal([new LiftWord(LiftReport.Raised)], message.Readings.ToArray().Select(r => LiftWord.Of(r.Value)));
        }
    }

    [Theory]
    [InlineData("loaded", LiftReport.Loaded)]
    [InlineData("unloaded", LiftReport.Unloaded)]
    [InlineData("raised", LiftReport.Raised)]
    [InlineData("moving", LiftReport.Moving)]
    [InlineData("unknown", LiftReport.Unknown)]
    [InlineData("lowered", LiftReport.Lowered)]
    public void Every_lift_state_has_its_word(string word, LiftReport state) => Assert.Equal(
        [Decoded.Lift(1, state)],
        Sample(UpStream.Lift, $$"""
            "axles":{"drive":"{{word}}"}
            """).Readings.ToArray());

    [Fact]
    public void Position_ends_with_the_speed()
    {
        var message = From(UpStream.Position, """{"seq":88,"samples":[{"t":"2026-03-02T06:14:05.000Z","lat":46.0569,"lon":14.5058,"alt_m":295,"speed_mps":22.1,"heading_deg":87,"accuracy_m":4}]}""");
        Assert.Equal(0, message.Refusals.Total);
        Assert.Equal(
            [
                Decoded.Position(PositionKey.Latitude, 46.0569), Decoded.Position(PositionKey.Longitude, 14.5058),
                Decoded.Position(PositionKey.Altitude, 295), Decoded.Position(PositionKey.Heading, 87),
                Decoded.Position(PositionKey.Accuracy, 4), Decoded.Position(PositionKey.Speed, 22.1),
            ],
            message.Readings.ToArray());
    }

    [Fact]
    public void Frame_comes_in_the_order_of_readings_whatever_the_order_of_its_fields()
    {
        var message = From(UpStream.Frame, """
            {"seq":5,"samples":[{"speed_mps":22,"pto":true,"axles":{"tag":"loaded"},"kpa":{"tag":2,"drive":1},"lon":14,"lat":46,"t":1772432045000}]}
            """);
        Assert.Equal(0, message.Refusals.Total);
        Assert.Equal(
            [
                Decoded.Pressure(0, 1), Decoded.Pressure(1, 2), Decoded.Lift(2, LiftReport.Loaded), Condition(ConditionKey.PowerTakeOff, 1),
                Decoded.Position(PositionKey.Latitude, 46), Decoded.Position(PositionKey.Longitude, 14), Decoded.Position(PositionKey.Speed, 22),
            ],
            message.Readings.ToArray());
    }

    [Fact]
    public void Condition_with_every_key()
    {
        var message = Sample(UpStream.Condition, """
            "ride":"dumped","mode":"traction","service_brake":false,"parking_brake":true,"pto":false,"ignition":true,
            "wheel_speed_mps":22.3,"fuel_l":310,"ambient_c":-4,"body_in_use":true
            """);
        Assert.Equal(0, message.Refusals.Total);
        double[] values = [1, 1, 0, 1, 0, 1, 22.3, 310, -4, 1];
        Assert.Equal(values.Select((value, key) => Condition((ConditionKey)key, value)), message.Readings.ToArray());
    }

    [Theory]
    [InlineData("normal", 0)]
    [InlineData("raised", 1)]
    [InlineData("lowered", 1)]
    [InlineData("dumped", 1)]
    [InlineData("unknown", 1)]
    public void Ride_height_is_normal_or_not(string word, double value) => Assert.Equal(
        [Condition(ConditionKey.RideHeight, value)],
        Sample(UpStream.Condition, $$"""
            "ride":"{{word}}"
            """).Readings.ToArray());

    [Fact]
    public void Coupling_names_the_trailers_in_order()
    {
        var message = From(UpStream.Coupling, """
            {"seq":3,"samples":[{"t":"2026-03-02T06:14:05Z","trailers":["TR-07","dolly.1","TR-01"]},{"t":"2026-03-02T06:14:06Z","trailers":[]}]}
            """);
        Assert.Equal(0, message.Refusals.Total);
        Assert.Equal(2, message.Couplings.Length);
        Assert.Equal(At, message.Couplings[0].At);
        Assert.Equal(["TR-07", "dolly.1", "TR-01"], message.Couplings[0].Trailers);
        Assert.Empty(message.Couplings[1].Trailers);
    }

    [Fact]
    public void Presence_online_and_last_will()
    {
        var online = From(UpStream.Presence, """{"online":true,"t":"2026-03-02T06:14:05Z","boot":"5f2c"}""");
        Assert.Equal(new PresenceStatement(true, At), online.Presence);
        Assert.Equal("5f2c", online.Boot.ToString());
        var will = From(UpStream.Presence, """{"online":false,"boot":"5f2c"}""");
        Assert.Equal(new PresenceStatement(false, null), will.Presence);
        Assert.Equal(online.Boot, will.Boot);
        Assert.Equal(0, online.Refusals.Total + will.Refusals.Total);
    }

    [Fact]
    public void Samples_are_independent_and_keep_their_order()
    {
        var message = From(UpStream.Pressure, """
            {"samples":[{"t":1772432045000,"kpa":{"drive":1}},{"t":"soon","kpa":{"drive":2}},{"t":1772432044000,"kpa":{"drive":3}}]}
            """);
        Assert.Equal([Decoded.Pressure(0, 1), Decoded.Pressure(0, 3) with { At = At.Plus(-1) }], message.Readings.ToArray());
        Assert.Equal("samples[1].t", message.OnlyRefusal().Field);
        Assert.Equal(3, message.Samples);
    }

    [Fact]
    public void Unknown_fields_are_ignored_wherever_they_stand()
    {
        var message = From(UpStream.Pressure, """
            {"x":{"y":[1,{"samples":1}]},"samples":[{"t":1772432045000,"speed_mps":"fast","note":[[]],"kpa":{"drive":1}}],"trailers":7}
            """);
        Assert.Equal(0, message.Refusals.Total);
        Assert.Equal([Decoded.Pressure(0, 1)], message.Readings.ToArray());
    }

    [Fact]
    public void The_vehicle_of_the_topic_may_be_named()
    {
        var message = From(UpStream.Pressure, """{"vehicle":"T-01","samples":[{"vehicle":"T\u002d01","t":1772432045000,"kpa":{"drive":1}}]}""");
        Assert.Equal(0, message.Refusals.Total);
        Assert.Equal(1, message.Readings.Length);
    }

    [Fact]
    public void A_buffer_forgets_the_message_before()
    {
        var message = From(UpStream.Frame, """{"seq":1,"boot":"b","samples":[{"t":1772432045000,"kpa":{"drive":1,"nose":2}}]}""");
        PayloadDecoder.Decode("""{"samples":[]}"""u8, Envelope(UpStream.Coupling), message);
        Assert.Equal(0, message.Refusals.Total);
        Assert.Equal(0, message.Readings.Length + message.Samples);
        Assert.Null(message.Sequence);
        Assert.Null(message.Boot);
    }

    [Fact]
    public void A_thousand_samples_are_taken()
    {
        var samples = string.Join(',', Enumerable.Range(0, ContractLimits.MaxSamples).Select(i => $$"""{"kpa":{"tag":{{i}} },"t":{{i}} }"""));
        var message = From(UpStream.Pressure, $$"""{"samples":[{{samples}}]}""");
        Assert.Equal(0, message.Refusals.Total);
        Assert.Equal(ContractLimits.MaxSamples, message.Readings.Length);
        Assert.Equal(new Reading(new Moment(999), ReadingKind.Pressure, 1, 999), message.Readings[^1]);
    }
}
