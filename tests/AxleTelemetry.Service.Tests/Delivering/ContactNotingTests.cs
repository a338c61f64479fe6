using System.Net;
using System.Text;
using System.Text.Json;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Telling;
using AxleTelemetry.Messages.Settings;
using AxleTelemetry.Service.Configuring;
using AxleTelemetry.Service.Delivering;
using AxleTelemetry.Service.Serving;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Service.Tests.Crashing;
using AxleTelemetry.Storage.Delivering;
using AxleTelemetry.Storage.Rows;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Web;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;
using SmtpServer.Protocol;

namespace AxleTelemetry.Service.Tests.Delivering;

/// <summary>Whom an alert reached and whom it did not stands in the journal and is shown with the alert.</summary>
public sealed class ContactNotingTests : IDisposable
{
    private readonly Premise _premise = new();

    public void Dispose() => _premise.Dispose();

    [Fact]
    public async Task Who_took_it_and_who_did_not_stands_in_the_journal_for_good()
    {
        await using var mail = new MailReceiver();
        await using var gone = await WebhookReceiver.StartAsync(_ => 410);
        await using var haul = new RunningHaul(_premise.Data);
        await using (var deliveries = _premise.Open(Settings(mail.Port, gone.Url), haul.Clock))
        {
            deliveries.Follow(haul.Desk);
            deliveries.Start();
            haul.Send();
            // As many as were called, and nobody by what tells of it: once all that waited has come to its end.
            await Eventually.Holds(() => haul.Changes.Any(c => c is { Cause: "reached", Contact.Who: "anna" }) && haul.Changes.Any(c => c.Cause == "not_reached")
                && deliveries.States().All(s => s.Waiting == 0) && mail.Mails.Length == haul.Changes.Count(c => c is { Cause: "reached", Contact.Who: "anna" }), () => $"{mail.Mails.Length} mails, {string.Join(", ", deliveries.States())}\n" + string.Join('\n', haul.Changes.Select(c => c.Happened)));
        }

        var alert = (await haul.AlertsAsync()).First(a => a.Contacts.Any(c => c is Contact.Reached { Who: "anna" }));
        var givenUp = Assert.IsType<Contact.GivenUp>(alert.Contacts.First(c => c.Who == "office"));
        Assert.Equal(("webhook", "It answers 410 Gone."), (givenUp.Channel, givenUp.Why));
        var told = haul.Changes.Where(c => c.Id == alert.Id.ToString()).ToArray();
        Assert.Equal(Enumerable.Range(1, told.Length), told.Select(c => c.Number));
        Assert.Contains(told, c => c.Happened == "Reached anna by mail.");
        Assert.Contains(told, c => c.Happened == "Did not reach office by webhook: It answers 410 Gone.");
        Assert.DoesNotContain(told, c => c.Contact is not null && c.Rings);
        // A person who is called once is told of once, however many changes follow; and what tells of it calls nobody.
        Assert.Single(told, c => c is { Cause: "reached", Contact.Who: "anna" });
        // As an input too, for whoever audits the log.
        var inputs = haul.Desk.Read(r => r.Inputs(Position.Start, 100_000)).Where(i => i.Row.Kind == Codes.ContactInput).Select(i => Encoding.UTF8.GetString([.. i.Row.Bytes])).ToArray();
        Assert.Contains(inputs, i => i.StartsWith($$"""{"alert":"{{alert.Id}}","outcome":"reached","who":"anna","channel":"mail","at":"20""", StringComparison.Ordinal));
        Assert.Contains(inputs, i => i.Contains("\"outcome\":\"given_up\",\"who\":\"office\"", StringComparison.Ordinal));
    }

    [Fact]
    public async Task What_was_entered_and_not_marked_by_a_crash_is_entered_once_and_what_waits_is_entered_after_the_next_start()
    {
        string id;
        await using (var first = new RunningHaul(_premise.Data))
        {
            first.Send();
            await Eventually.Holds(() => first.Changes.Any(c => c.Rings), () => $"{first.Desk.Health}");
            id = first.Changes.First(c => c.Rings).Id;
            Assert.Equal(0, await first.Desk.ContactAsync([(id, new Contact.Reached("anna", "mail", new Moment(1_000)))], TestContext.Current.CancellationToken));
        }

        // Killed between the two: the journal has the first, and here both still wait, with one of an alert that nobody remembers.
        var forgotten = Told.Id.Replace("RT-01", "RT-09", StringComparison.Ordinal);
        using (var file = DeliveryFile.Open(_premise.Data))
        {
            file.InOneStep(book =>
            {
                foreach (var (message, alert) in (ReadOnlySpan<(string, string)>)[("one", id), ("two", id), ("three", forgotten)])
                    book.Add(new NewParcel(message, "anna", alert, ParcelKind.Change) { IsUrgent = false, At = new Moment(1), Bytes = Told.Bytes(), Channel = "mail" });
                foreach (var (parcel, at) in book.Due("anna", new Moment(1), 10).Zip([1_000L, 2_000, 3_000])) book.Delivered(parcel, new Moment(at));
            });
        }

        await using var haul = new RunningHaul(_premise.Data);
        await using var mail = new MailReceiver();
        await using var deliveries = _premise.Open(Settings(mail.Port, "http://127.0.0.1:9/"), haul.Clock);
        deliveries.Follow(haul.Desk);
        deliveries.Start();
        await Eventually.Holds(() => deliveries.Unnoted() == 1, () => $"{deliveries.Unnoted()}");
        var contacts = (await haul.AlertsAsync()).Single(a => a.Id.ToString() == id).Contacts;
        Assert.Equal([new Contact.Reached("anna", "mail", new Moment(1_000)), new Contact.Reached("anna", "mail", new Moment(2_000))], contacts);
        Assert.Equal(2, haul.Changes.Count(c => c.Id == id && c.Cause == "reached"));
    }

    [Fact]
    public void An_alert_is_on_its_way_only_with_what_is_entered_as_having_reached()
    {
        using var file = DeliveryFile.Open(_premise.Data);
        file.InOneStep(book =>
        {
            foreach (var (message, recipient, channel) in (ReadOnlySpan<(string, string, string?)>)[("1", "mqtt:main", null), ("1", "anna", "mail"), ("2", "office", null)])
                book.Add(new NewParcel(message, recipient, Told.Id, ParcelKind.Change) { IsUrgent = false, At = new Moment(1), Bytes = Told.Bytes(), Channel = channel });
        });
        Assert.Equal(["anna"], file.InOneStep(book => book.WaitingAbout(Told.Id, 10)).Select(p => p.Recipient));
        Assert.Equal(3, file.InOneStep(book => book.About(Told.Id, 10)).Length);
    }

    [Fact]
    public async Task A_digest_reaches_for_each_of_its_parts()
    {
        using var file = DeliveryFile.Open(_premise.Data);
        file.InOneStep(book =>
        {
            foreach (var number in (int[])[1, 2]) book.Add(new NewParcel($"m{number}", "anna", $"north/RT-0{number}/x/1", ParcelKind.Change) { IsUrgent = false, At = new Moment(1), Bytes = Told.Bytes(), Channel = "mail" });
            book.Gather("anna", book.Due("anna", new Moment(1), 10), "digest", new Moment(2));
            var digest = book.Due("anna", new Moment(2), 10).Single();
            Assert.Equal(["anna"], book.WaitingAbout("north/RT-01/x/1", 10).Select(p => p.Recipient));
            book.GiveUp(digest, new Moment(3), "no such mailbox");
            Assert.Empty(book.WaitingAbout("north/RT-01/x/1", 10));
            Assert.True(book.SendAgain(digest.Number, new Moment(4)));
            book.Delivered(digest, new Moment(5));
        });
        Assert.Equal([("north/RT-01/x/1", 3L, "no such mailbox"), ("north/RT-02/x/1", 3, "no such mailbox"), ("north/RT-01/x/1", 5, null), ("north/RT-02/x/1", 5, null)],
            file.InOneStep(book => book.Outcomes.Next("north", 10)).Select(o => (o.Alert, o.At.UnixMilliseconds, o.Why)));
        await Task.CompletedTask;
    }

    [Fact]
    public async Task The_alert_says_whom_it_reached_whom_not_and_for_whom_it_waits()
    {
        var answers = new Queue<SmtpResponse>([new SmtpResponse(SmtpReplyCode.MailboxUnavailable, "no such mailbox")]);
        await using var mail = new MailReceiver(() => answers.TryDequeue(out var answer) ? answer : null);
        await using var away = await WebhookReceiver.StartAsync(_ => 503);
        await using var haul = new RunningHaul(_premise.Data);
        await using var deliveries = _premise.Open(Settings(mail.Port, away.Url), haul.Clock);
        deliveries.Follow(haul.Desk);
        deliveries.Start();
        haul.Send();
        await Eventually.Holds(() => haul.Changes.Any(c => c.Cause == "not_reached") && deliveries.States().Single(s => s.Recipient == "office").Trouble is not null, () => string.Join('\n', haul.Changes.Select(c => c.Happened)));
        var id = haul.Changes.First(c => c.Cause == "not_reached").Id;
        var configuration = _premise.Configuration(Settings(mail.Port, away.Url)) with { ApiToken = new Secret("of-the-tests-0123") };
        await using var app = HttpHost.Build(configuration, new ListenAddress(IPAddress.Loopback, 0), new Desks([haul.Desk]) { Deliveries = deliveries }, (haul.Clock, _ => { }));
        await app.StartAsync(TestContext.Current.CancellationToken);
        using var client = new HttpClient { BaseAddress = new Uri(app.Services.GetRequiredService<IServer>().Features.Get<IServerAddressesFeature>()!.Addresses.Single()) };
        client.DefaultRequestHeaders.Authorization = new System.Net.Http.Headers.AuthenticationHeaderValue("Bearer", "of-the-tests-0123");
        using var detail = JsonDocument.Parse(await client.GetStringAsync(new Uri($"/api/v1/alerts/{id}", UriKind.Relative), TestContext.Current.CancellationToken));
        var missed = detail.RootElement.GetProperty("alert").GetProperty("not_reached")[0];
        Assert.Equal(("anna", "mail"), (missed.GetProperty("who").GetString(), missed.GetProperty("channel").GetString()));
        Assert.Contains("550", missed.GetProperty("why").GetString(), StringComparison.Ordinal);
        Assert.Contains(detail.RootElement.GetProperty("deliveries").EnumerateArray(), d => d.GetProperty("recipient").GetString() == "office" && d.GetProperty("state").GetString() == "waiting");
        Assert.Contains(detail.RootElement.GetProperty("deliveries").EnumerateArray(), d => d.GetProperty("recipient").GetString() == "anna" && d.GetProperty("state").GetString() == "dead");
        var sight = app.Services.GetRequiredService<Web.Sight.INowSight>();
        Assert.Contains(sight.Awaited(id), a => a.Who == "office" && a.Trouble!.Contains("503", StringComparison.Ordinal));
        var shown = await Shown(app, sight, id);
        foreach (var words in (string[])["Did not reach anna by mail, given up", "550", "On its way to office since", "503"]) Assert.Contains(words, shown, StringComparison.Ordinal);
        // And so do the files of the register.
        var register = app.Services.GetRequiredService<Web.Sight.IRegisterSight>();
        var found = await register.ReadAsync(new Web.Sight.EpisodeQuery { OverloadsOnly = true }, TestContext.Current.CancellationToken);
        var lines = await register.WithContactsAsync([.. found.Lines], TestContext.Current.CancellationToken);
        Assert.Contains(lines, l => l.Contacts.StartsWith("not anna by mail, 20", StringComparison.Ordinal) && l.Contacts.Contains("550", StringComparison.Ordinal));
    }

    /// <summary>What the pages show of an alert, on Now behind 'More'.</summary>
    private static async Task<string> Shown(WebApplication app, Web.Sight.INowSight sight, string id)
    {
        using var watch = sight.Watch();
        var picture = sight.Now;
        while (picture.Alerts.All(a => a.Id != id || a.Contacts.IsEmpty)) picture = await sight.AfterAsync(picture.Number, TestContext.Current.CancellationToken).WaitAsync(TimeSpan.FromSeconds(60), TestContext.Current.CancellationToken);
        await using var scope = app.Services.CreateAsyncScope();
        await using var renderer = new HtmlRenderer(scope.ServiceProvider, scope.ServiceProvider.GetRequiredService<ILoggerFactory>());
        Task<string> Html<T>(Dictionary<string, object?> parameters) where T : IComponent => renderer.Dispatcher.InvokeAsync(async () => (await renderer.RenderComponentAsync<T>(ParameterView.FromDictionary(parameters))).ToHtmlString());
        var alert = picture.Alerts.First(a => a.Id == id);
        var more = await Html<Web.Now.AlertMore>(new() { ["Alert"] = alert, ["Now"] = picture.At });
        // And so does the page of the vehicle.
        var vehicle = await app.Services.GetRequiredService<Web.Sight.IVehicleSight>().VehicleAsync(alert.Vehicle, TestContext.Current.CancellationToken);
        Assert.Contains("Did not reach anna by mail, given up", await Html<Web.Vehicle.VehicleAlerts>(new() { ["Alerts"] = vehicle!.Alerts, ["Now"] = vehicle.At }), StringComparison.Ordinal);
        return more;
    }

    private static string Settings(int mail, string hook) => FormattableString.Invariant($$"""
        { "mail": { "host": "localhost", "port": {{mail}}, "from": "axles@fleet.example", "tls": "none" },
          "recipients": { "anna": { "mail": "anna@fleet.example", "most_per_hour": 60 }, "office": { "webhook": { "url": "{{hook}}", "secret_file": "hook.secret" } } }, "routes": [{ "to": ["anna", "office"] }] }
        """);
}
