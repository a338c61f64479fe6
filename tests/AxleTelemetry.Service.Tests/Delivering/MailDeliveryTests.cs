using AxleTelemetry.Messages.Settings;
using AxleTelemetry.Service.Delivering;
using AxleTelemetry.Service.Serving;
using AxleTelemetry.Service.Tests.Receiving;
using AxleTelemetry.Storage.Delivering;
using Microsoft.Extensions.Time.Testing;
using MimeKit;
using SmtpServer.Protocol;

namespace AxleTelemetry.Service.Tests.Delivering;

/// <summary>Mail as a real listener of SMTP is given it.</summary>
public sealed class MailDeliveryTests : IDisposable
{
    private readonly Premise _premise = new();
    private readonly FakeTimeProvider _clock = new(DateTimeOffset.FromUnixTimeMilliseconds(Told.Since.UnixMilliseconds).AddMinutes(2));

    public void Dispose() => _premise.Dispose();

    [Fact]
    public async Task A_mail_says_the_sentence_with_vehicle_time_caution_and_the_id()
    {
        await using var receiver = new MailReceiver();
        await using var deliveries = _premise.Open(Mail(receiver.Port, "\"language\": \"en\""), _clock);
        Add("axle_1");
        deliveries.Start();
        await Premise.Until(_clock, () => receiver.Mails.Length == 1, () => deliveries.States()[0].ToString());
        var mail = receiver.Mails[0];
        Assert.Equal("[high] north/RT-01: axle 2 (drive) over its limit", mail.Subject);
        Assert.Equal(("axle_1@fleet.example", "anna@fleet.example", "axles@fleet.example"), (mail.MessageId, mail.To.Mailboxes.Single().Address, mail.From.Mailboxes.Single().Address));
        Assert.Equal("text/plain", Assert.IsType<TextPart>(mail.Body).ContentType.MimeType);
        Assert.StartsWith("Axle 2 (drive): 12.4 t, give or take 0.5 t; 0.9 t over 11.5 t (sure).\n", Body(mail), StringComparison.Ordinal);
        Assert.Contains("Vehicle: north/RT-01", Body(mail), StringComparison.Ordinal);
        Assert.Contains("Since: 2026-03-02 06:00 UTC", Body(mail), StringComparison.Ordinal);
        Assert.Contains("not a certified weighing", Body(mail), StringComparison.Ordinal);
        Assert.Equal("auto-generated", mail.Headers["Auto-Submitted"]);
    }

    [Fact]
    public async Task With_a_password_it_goes_encrypted_to_a_server_whose_authority_is_named()
    {
        var certificates = new Certificates(Path.GetDirectoryName(_premise.Settings)!);
        using var certificate = certificates.Read();
        await using var receiver = new MailReceiver(certificate: certificate);
        // Of a stranger's certificate nothing is sent, neither mail nor password.
        await using (var wary = _premise.Open(Mail(receiver.Port, "", "\"username\": \"axles\", \"password_file\": \"mail.password\", \"tls\": \"start-tls\""), _clock))
        {
            Add("axle_1");
            wary.Start();
            await Premise.Until(_clock, () => wary.States()[0].Trouble is not null, () => "trouble");
            Assert.Empty(receiver.Mails);
        }

        await using var deliveries = _premise.Open(Mail(receiver.Port, "", "\"username\": \"axles\", \"password_file\": \"mail.password\", \"tls\": \"start-tls\", \"ca_file\": \"certificate.pem\""), _clock);
        deliveries.Start();
        await Premise.Until(_clock, () => receiver.Mails.Length == 1, () => deliveries.States()[0].ToString());
    }

    [Fact]
    public async Task What_the_server_refuses_for_now_is_tried_again_and_for_good_is_put_aside()
    {
        var answers = new Queue<SmtpResponse>([new SmtpResponse(SmtpReplyCode.ServiceUnavailable, "later"), new SmtpResponse(SmtpReplyCode.MailboxUnavailable, "no such mailbox")]);
        await using var receiver = new MailReceiver(() => answers.TryDequeue(out var answer) ? answer : null);
        await using var deliveries = _premise.Open(Mail(receiver.Port, ""), _clock);
        Add("axle_1", "axle_2");
        deliveries.Start();
        await Premise.Until(_clock, () => receiver.Mails.Length == 1 && deliveries.States()[0].Dead == 1, () => deliveries.States()[0].ToString());
        Assert.Contains("550", Assert.Single(deliveries.In(ParcelState.Dead, null, long.MaxValue, 10)).Trouble, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_server_that_asks_for_a_password_nobody_set_is_said_and_the_mail_waits()
    {
        await using (var locked = new MailReceiver(isLocked: true))
        {
            await using var deliveries = _premise.Open(Mail(locked.Port, ""), _clock);
            Add("axle_1");
            deliveries.Start();
            await Premise.Until(_clock, () => deliveries.States()[0] is { Trouble: not null, Waiting: 1 }, () => deliveries.States()[0].ToString());
        }

        await using var receiver = new MailReceiver();
        await using var after = _premise.Open(Mail(receiver.Port, ""), _clock);
        after.Start();
        await Premise.Until(_clock, () => receiver.Mails.Length == 1, () => after.States()[0].ToString());
    }

    [Fact]
    public async Task An_address_that_no_mail_can_go_to_is_said_and_the_mail_waits()
    {
        await using var receiver = new MailReceiver();
        await using var deliveries = _premise.Open(Mail(receiver.Port, "").Replace("anna@fleet.example", "anna(office@fleet.example", StringComparison.Ordinal), _clock);
        Add("axle_1");
        deliveries.Start();
        await Premise.Until(_clock, () => deliveries.States()[0] is { Trouble: not null, Waiting: 1 }, () => deliveries.States()[0].ToString());
    }

    [Fact]
    public async Task More_than_a_person_can_manage_comes_as_a_digest_that_lists_each()
    {
        await using var receiver = new MailReceiver();
        await using var deliveries = _premise.Open(Mail(receiver.Port, "\"most_per_hour\": 2"), _clock);
        Add("axle_1", "axle_2");
        deliveries.Start();
        await Premise.Until(_clock, () => receiver.Mails.Length == 2, () => deliveries.States()[0].ToString());
        Add("axle_3", "axle_4", "axle_5");
        // It has it before that is written down here.
        await Premise.Until(_clock, () => receiver.Mails.Length == 3 && deliveries.States()[0].Tally.Delivered == 3, () => deliveries.States()[0].ToString(), seconds: 20);
        Assert.True(_clock.GetUtcNow().ToUnixTimeMilliseconds() - Told.Since.UnixMilliseconds > 3_600_000);
        Assert.Equal("3 messages about alerts", receiver.Mails[2].Subject);
        Assert.Equal(3, Body(receiver.Mails[2]).Split("north/RT-01 (high): Axle 2 (drive): 12.4 t").Length - 1);
        Assert.Equal((3, 3), (deliveries.States()[0].Tally.Gathered, deliveries.States()[0].Tally.Delivered));
    }

    [Fact]
    public void In_German_everything_around_the_sentence_is_German()
    {
        var parcel = new Parcel(1, "axle_1", "anna") { Alert = Told.Id, Kind = ParcelKind.Escalation, State = ParcelState.Waiting, IsUrgent = true, Queued = Told.Since, Due = Told.Since, Attempts = 0, Bytes = Told.Bytes() };
        var recipient = _premise.Configuration(Mail(25, "\"language\": \"de\"")).Settings.Delivery!.Recipients[0];
        var text = new MailText(recipient, new Uri("https://axles.example"));
        Assert.StartsWith("[hoch, nicht quittiert] north/RT-01: ", text.Subject(new Outgoing(parcel, [])), StringComparison.Ordinal);
        var body = text.Body(new Outgoing(parcel, []));
        Assert.StartsWith("Niemand hat diesen Alarm rechtzeitig quittiert.", body, StringComparison.Ordinal);
        foreach (var part in (string[])["Fahrzeug: north/RT-01", "Seit: 2026-03-02 06:00 UTC", "Zustand: nicht quittiert", "Alarm: https://axles.example/", "keine geeichte Wägung"])
            Assert.Contains(part, body, StringComparison.Ordinal);
    }

    [Fact]
    public void A_program_that_reads_German_is_told_in_German_what_happened_and_what_else_is_told_with_it()
    {
        var parcel = new Parcel(1, "axle_1", "office") { Alert = Told.Id, Kind = ParcelKind.Change, State = ParcelState.Waiting, IsUrgent = false, Queued = Told.Since, Due = Told.Since, Attempts = 0, Bytes = Told.Bytes(Told.Change() with
        {
            Cause = new Domain.Telling.AlertCause.Acted(new Domain.Telling.OperatorAction.StateDone("Ada", "1,2 t abgeladen")), With = [Told.Change(kind: Domain.Findings.FindingKind.SensorDrifts).Id.Subject],
        }) };
        var german = AlertMessage.Of(new Outgoing(parcel, []), Language.De).Data!;
        Assert.Equal(("state_done", "Ada gibt an: 1,2 t abgeladen"), (german.Cause, german.Happened));
        Assert.Matches("^Sensor .* driftet$", Assert.Single(german.With));
        Assert.Equal(("unacknowledged", "nicht quittiert"), (german.State.Code, german.State.Words));
        var english = AlertMessage.Of(new Outgoing(parcel, []), Language.En).Data!;
        Assert.Equal("Ada states: 1,2 t abgeladen", english.Happened);
        // A change of before that was kept is told as far as it was.
        var old = System.Text.Encoding.UTF8.GetString([.. parcel.Bytes]);
        var without = System.Text.Json.Nodes.JsonNode.Parse(old)!;
        without["in_other_languages"]!["de"]!.AsObject().Remove("happened");
        without["in_other_languages"]!["de"]!.AsObject().Remove("with");
        var before = AlertMessage.Of(new Outgoing(parcel with { Bytes = [.. System.Text.Encoding.UTF8.GetBytes(without.ToJsonString())] }, []), Language.De).Data!;
        Assert.Equal((english.Happened, german.Sentence), (before.Happened, before.Sentence));
    }

    [Fact]
    public void A_digest_says_which_of_it_nobody_acknowledged()
    {
        var digest = new Parcel(3, "axle_3", "anna") { Alert = "", Kind = ParcelKind.Digest, State = ParcelState.Waiting, IsUrgent = false, Queued = Told.Since, Due = Told.Since, Attempts = 0, Bytes = [] };
        var change = digest with { Number = 1, Message = "axle_1", Alert = Told.Id, Kind = ParcelKind.Change, State = ParcelState.Gathered, Bytes = Told.Bytes() };
        var message = new Outgoing(digest, [change, change with { Number = 2, Message = "axle_2", Kind = ParcelKind.Escalation }]);
        var recipient = _premise.Configuration(Mail(25, "")).Settings.Delivery!.Recipients[0];
        var lines = new MailText(recipient, null).Body(message).Split('\n').Where(l => l.Contains("north/RT-01 (high)", StringComparison.Ordinal)).ToArray();
        Assert.Equal([false, true], lines.Select(l => l.Contains("Nobody has acknowledged this alert in time.", StringComparison.Ordinal)));
        Assert.Equal([false, true], AlertMessage.Of(message, Language.En).Digest!.Value.Select(d => d.Sentence.StartsWith("Nobody has acknowledged", StringComparison.Ordinal)));
    }

    private static string Body(MimeMessage mail) => mail.TextBody!.ReplaceLineEndings("\n");

    private static string Mail(int port, string recipient, string? server = null) => FormattableString.Invariant($$"""
        { "mail": { "host": "localhost", "port": {{port}}, "from": "axles@fleet.example", {{server ?? "\"tls\": \"none\""}} },
          "recipients": { "anna": { "mail": "anna@fleet.example"{{(recipient.Length > 0 ? ", " + recipient : "")}} } }, "routes": [{ "to": ["anna"] }] }
        """);

    private void Add(params string[] messages)
    {
        using var file = DeliveryFile.Open(_premise.Data);
        foreach (var message in messages)
            file.InOneStep(book => book.Add(new NewParcel(message, "anna", Told.Id, ParcelKind.Change) { IsUrgent = false, At = _clock.Now(), Bytes = Told.Bytes() }));
    }
}
