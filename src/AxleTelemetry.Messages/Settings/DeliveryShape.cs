using System.Collections.Immutable;
using System.Text.Json;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Telling;
using AxleTelemetry.Messages.VehicleFiles;

namespace AxleTelemetry.Messages.Settings;

/// <summary>What the settings say of delivery, as a table.</summary>
internal static class DeliveryShape
{
    /// <summary>A vehicle that is not heard, among the kinds: it is told like a finding and is none.</summary>
    public const string Silent = "vehicle_silent";

    private const int MostRecipients = 200, MostRoutes = 200;

    private static readonly Form Key = new Form.Text(1, 64, IsKey: true);
    private static readonly Form Path = new Form.Text(1, 1_000);
    private static readonly Form Names = new Form.List(Key, 1, MostRecipients);
    private static readonly Form Minutes = new Form.Number(1, 10_080, Whole: true);

    private static readonly Shape Mqtt = new("mqtt", [new("alerts", new Form.Flag(), false), new("advice", new Form.Flag(), false)]);

    private static readonly Shape Mail = new("mail",
    [
        new("host", new Form.Text(1, 255), true),
        new("port", new Form.Number(1, 65_535, Whole: true), false),
        new("tls", new Form.Choice(Words.Of<MailTls>()), false),
        new("ca_file", Path, false),
        new("username", new Form.Text(1, 200), false),
        new("password_file", Path, false),
        new("from", new Form.Text(3, 254), true),
        new("give_up_after_min", Minutes, false),
    ]);

    private static readonly Shape Webhook = new("webhook",
    [
        new("url", new Form.Text(8, 1_000), true),
        new("secret_file", Path, true),
        new("give_up_after_min", Minutes, false),
    ]);

    private static readonly Shape Recipient = new("recipient",
    [
        new("webhook", new Form.Part(Webhook), false),
        new("mail", new Form.Text(3, 254), false),
        new("language", new Form.Choice(Words.Of<Language>()), false),
        new("changes", new Form.Choice(["all", "rings"]), false),
        new("most_per_hour", new Form.Number(1, 60, Whole: true), false),
    ]);

    private static readonly Shape Escalation = new("escalation", [new("after_min", Minutes, true), new("to", Names, true)]);

    private static readonly Shape Route = new("route",
    [
        new("to", Names, true),
        new("fleets", new Form.List(Key, 1, SettingsShape.MostFleets), false),
        new("kinds", new Form.List(new Form.Choice(Kinds), 1, Kinds.Length), false),
        new("least_priority", new Form.Choice(Words.Of<AlertPriority>()), false),
        new("least_level", new Form.Choice(Words.Of<Level>()), false),
        new("escalation", new Form.List(new Form.Part(Escalation), 1, 5), false),
    ]);

    /// <summary>The kinds by the names that documents use.</summary>
    public static ImmutableArray<string> Kinds => [.. Enum.GetNames<FindingKind>().Select(JsonNamingPolicy.SnakeCaseLower.ConvertName), Silent];

    /// <summary>The whole part.</summary>
    public static Shape Delivery { get; } = new("delivery",
    [
        new("mqtt", new Form.Part(Mqtt), false),
        new("mail", new Form.Part(Mail), false),
        new("recipients", new Form.Named(new Form.Part(Recipient), 1, MostRecipients), false),
        new("routes", new Form.List(new Form.Part(Route), 1, MostRoutes), false),
    ]);

    /// <summary>The kind of a name; <c>null</c> for a vehicle that is not heard.</summary>
    public static FindingKind? Kind(string name) => name == Silent ? null : Enum.GetValues<FindingKind>().First(k => JsonNamingPolicy.SnakeCaseLower.ConvertName(k.ToString()) == name);
}
