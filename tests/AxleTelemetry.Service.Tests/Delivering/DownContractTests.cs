using System.Text.Json;
using System.Text.Json.Nodes;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Messages.Settings;
using AxleTelemetry.Messages.Tests.Contract;
using AxleTelemetry.Service.Delivering;
using AxleTelemetry.Service.Serving;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Service.Tests.Sharding;
using AxleTelemetry.Storage.Delivering;

namespace AxleTelemetry.Service.Tests.Delivering;

/// <summary>What goes out by MQTT is what the contract of messages says.</summary>
public sealed class DownContractTests
{
    [Fact]
    public void Advice_has_the_address_and_the_fields_of_the_document()
    {
        var run = new ShardRun(Shard.Begin(new TellingStore(), new ShardOptions()));
        run.Configure(RaisedHaul.Messages[0].Received!.Value);
        foreach (var some in RaisedHaul.UpToAdvice.Chunk(10)) run.Append(some);
        var (unit, advice, vehicles) = run.Shard.State.Advices(run.Now)[0];
        var document = JsonSerializer.SerializeToNode(AdviceDocument.Of("axle_1", advice, vehicles, (run.Now, run.Now.Plus(120))), JsonText.Options)!.AsObject();
        Assert.Equal(Address("advice").Replace("{fleet}", "north", StringComparison.Ordinal).Replace("{vehicle}", "RT-01", StringComparison.Ordinal), AdviceTelling.TopicOf(unit));
        Same(document, "advice");
        Same(document["lower"]![0]!.AsObject(), ContractDocument.At("components", "schemas", "advised_axle"));
        Same(document["configuration"]![0]!.AsObject(), Payload("advice")["properties"]!["configuration"]!["items"]!.AsObject());
        Assert.Equal(AdviceTelling.Expiry.TotalSeconds, ContractDocument.At("operations", "giveAdvice", "bindings", "mqtt")["messageExpiryInterval"]!.GetValue<long>());
    }

    [Fact]
    public void An_alert_has_the_address_and_the_fields_of_the_document()
    {
        var parcel = new Parcel(1, "axle_1", "mqtt:main") { Alert = Told.Id, Kind = ParcelKind.Change, State = ParcelState.Waiting, IsUrgent = false, Queued = new Moment(0), Due = new Moment(0), Attempts = 0, Bytes = Told.Bytes() };
        var document = JsonNode.Parse(AlertMessage.Write(new Outgoing(parcel, []), Language.En))!.AsObject();
        Assert.Equal(Address("alerts").Replace("{fleet}", "north", StringComparison.Ordinal), BrokerOutlet.Topic("north"));
        var optional = document.Where(p => p.Value is null).Select(p => p.Key).ToArray();
        foreach (var absent in optional) document.Remove(absent);
        Same(document, "alerts");
        var data = document["data"]!.AsObject();
        foreach (var absent in data.Where(p => p.Value is null).Select(p => p.Key).ToArray()) data.Remove(absent);
        Same(data, Payload("alerts")["properties"]!["data"]!.AsObject());
    }

    [Fact]
    public void Whom_an_alert_reached_has_the_fields_of_the_document()
    {
        Domain.Telling.Contact.GivenUp missed = new("anna", "mail", Told.Since, "no such mailbox");
        foreach (var cause in (Domain.Telling.AlertCause[])[new Domain.Telling.AlertCause.Reached(new Domain.Telling.Contact.Reached("anna", "mail", Told.Since)), new Domain.Telling.AlertCause.NotReached(missed)])
        {
            var data = JsonNode.Parse([.. Told.Bytes(Told.Change() with { Cause = cause })])!.AsObject();
            Same(data["contact"]!.AsObject(), Payload("alerts")["properties"]!["data"]!["properties"]!["contact"]!.AsObject());
        }
    }

    private static string Address(string channel) => ContractDocument.At("channels", channel)["address"]!.GetValue<string>();

    private static JsonObject Payload(string message) => ContractDocument.At("components", "messages", message, "payload");

    private static void Same(JsonObject written, string message) => Same(written, Payload(message));

    /// <summary>What is required is written, and what is written is known.</summary>
    private static void Same(JsonObject written, JsonObject schema)
    {
        var known = schema["properties"]!.AsObject().Select(p => p.Key).ToHashSet();
        Assert.Empty(written.Select(p => p.Key).Except(known));
        Assert.Empty(schema["required"]!.AsArray().Select(r => r!.GetValue<string>()).Except(written.Select(p => p.Key)));
    }
}
