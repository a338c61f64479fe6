using System.Collections.Concurrent;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Service.Configuring;
using AxleTelemetry.Service.Delivering;
using AxleTelemetry.Service.Hosting;
using AxleTelemetry.Service.Serving;
using AxleTelemetry.Service.Tests.Crashing;
using AxleTelemetry.Service.Tests.Watching;
using AxleTelemetry.Storage.Delivering;
using Microsoft.Extensions.Time.Testing;

namespace AxleTelemetry.Service.Tests.Delivering;

/// <summary>Who is told is set anew while the service runs.</summary>
public sealed class ChangedRecipientsTests : IDisposable
{
    private readonly Premise _premise = new();
    private readonly FakeTimeProvider _clock = new(DateTimeOffset.FromUnixTimeMilliseconds(Told.Since.UnixMilliseconds).AddDays(1));

    public void Dispose() => _premise.Dispose();

    [Fact]
    public async Task Who_goes_is_sent_nothing_more_what_waited_is_given_up_and_who_comes_is_told()
    {
        await using var gone = await WebhookReceiver.StartAsync(_ => 503);
        await using var there = await WebhookReceiver.StartAsync();
        await using var deliveries = _premise.Open(Hooks(("gone", gone.Url), ("stays", there.Url)), _clock);
        // More than are given up in one step.
        Add("gone", [.. Enumerable.Range(1, 450).Select(i => $"m{i}")]);
        deliveries.Start();
        await Premise.Until(_clock, () => deliveries.States()[0] is { Trouble: not null }, () => $"{deliveries.States()[0]}");
        deliveries.Take(_premise.Configuration(Hooks(("comes", there.Url), ("stays", there.Url))));
        await Premise.Until(_clock, () => deliveries.In(ParcelState.Dead, "gone", long.MaxValue, 1_000).Length == 450, () => $"{deliveries.In(ParcelState.Waiting, null, long.MaxValue, 10).Length} wait");
        Assert.All(deliveries.In(ParcelState.Dead, "gone", long.MaxValue, 1_000), p => Assert.Equal("The settings have no recipient of this name any more.", p.Trouble));
        Assert.Equal(["comes", "stays"], deliveries.States().Select(s => s.Recipient));
        var posts = gone.Posts.Length;
        Add("comes", "c");
        Add("stays", "d");
        await Premise.Until(_clock, () => there.Taken.Length == 2, () => $"{there.Taken.Length}");
        Assert.Equal(["c", "d"], there.Taken.Select(p => p.Id).Order(StringComparer.Ordinal));
        Assert.Equal(posts, gone.Posts.Length);
        // Sent again it would wait for nobody; back in the settings it goes out under its old id.
        var dead = deliveries.In(ParcelState.Dead, "gone", long.MaxValue, 10)[0];
        Assert.Contains("'gone'", Assert.IsType<SendingAgain.NobodyThere>(deliveries.SendAgain(dead.Number)).Text, StringComparison.Ordinal);
        deliveries.Take(_premise.Configuration(Hooks(("gone", there.Url), ("stays", there.Url))));
        Assert.IsType<SendingAgain.Waits>(deliveries.SendAgain(dead.Number));
        await Premise.Until(_clock, () => there.Taken.Any(p => p.Id == dead.Message), () => "sent again");
    }

    [Fact]
    public async Task Whoever_moves_is_sent_at_the_new_address_what_waited_and_what_is_in_hand_is_ended_first()
    {
        var held = new TaskCompletionSource();
        var came = new TaskCompletionSource();
        await using var old = await WebhookReceiver.StartAsync(_ =>
        {
            came.TrySetResult();
            held.Task.Wait(TimeSpan.FromSeconds(30), CancellationToken.None);
            return 204;
        });
        await using var next = await WebhookReceiver.StartAsync();
        await using var deliveries = _premise.Open(Hooks(("office", old.Url)), _clock);
        Add("office", "a", "b");
        deliveries.Start();
        await came.Task.WaitAsync(TimeSpan.FromSeconds(30), TestContext.Current.CancellationToken);
        deliveries.Take(_premise.Configuration(Hooks(("office", next.Url))));
        Assert.Empty(next.Posts);
        held.SetResult();
        await Premise.Until(_clock, () => deliveries.States().Single().Tally.Delivered == 2, () => $"{deliveries.States().Single()}");
        Assert.Equal(["a"], old.Posts.Select(p => p.Id));
        Assert.Equal(["b"], next.Posts.Select(p => p.Id));
    }

    [Fact]
    public async Task A_pause_holds_for_the_address_that_asked_for_it_and_for_no_other()
    {
        await using var asks = await WebhookReceiver.StartAsync(_ => 429);
        await using var next = await WebhookReceiver.StartAsync();
        await using var deliveries = _premise.Open(Hooks(("office", asks.Url)), _clock);
        Add("office", "a");
        deliveries.Start();
        await Premise.Until(_clock, () => Held() > _clock.Now(), () => $"{deliveries.States().Single()}");
        // In another language it is the same address. The clock stands from here on: what is not sent at once is never sent.
        var asked = Ways(Hooks(("office", asks.Url)));
        Assert.True(Ways(Hooks(("office", asks.Url)).Replace("{ \"webhook\"", "{ \"language\": \"de\", \"webhook\"", StringComparison.Ordinal)).IsSamePlace("office", asked));
        Assert.False(Ways(Hooks(("office", next.Url))).IsSamePlace("office", asked));
        deliveries.Take(_premise.Configuration(Hooks(("office", next.Url))));
        await Eventually.Holds(() => next.Taken.Length == 1, () => $"held until {Held()}");
        Assert.Null(Held());
    }

    [Fact]
    public async Task What_waited_and_what_was_given_up_is_entered_by_the_way_that_it_went_in_the_end()
    {
        await using var hook = await WebhookReceiver.StartAsync();
        await using var deliveries = _premise.Open(Mail, _clock);
        using var file = DeliveryFile.Open(_premise.Data);
        file.InOneStep(book =>
        {
            foreach (var (message, channel) in (ReadOnlySpan<(string, string?)>)[("dead", "mail"), ("part", "mail"), ("waits", "mail"), ("untold", null)])
                book.Add(new NewParcel(message, "office", Told.Id, ParcelKind.Change) { IsUrgent = false, At = _clock.Now(), Bytes = Told.Bytes(), Channel = channel });
            var parcels = book.Due("office", _clock.Now(), 10);
            book.GiveUp(parcels[0], _clock.Now(), "no such mailbox");
            book.Gather("office", [parcels[1]], "digest", _clock.Now());
        });
        // By mail nothing was sent yet: the senders start with the settings that hold by then.
        deliveries.Take(_premise.Configuration(Hooks(("office", hook.Url))));
        deliveries.Start();
        await Premise.Until(_clock, () => hook.Taken.Length == 3, () => $"{hook.Taken.Length}");
        Assert.IsType<SendingAgain.Waits>(deliveries.SendAgain(deliveries.In(ParcelState.Dead, null, long.MaxValue, 1).Single().Number));
        await Premise.Until(_clock, () => deliveries.States().Single().Tally.Delivered == 4, () => $"{deliveries.States().Single()}");
        Assert.Equal([("mail", "no such mailbox"), ("webhook", null), ("webhook", null), ("webhook", null)], file.InOneStep(book => book.Outcomes.Next("north", 10)).Select(o => (o.Channel, o.Why)));
    }

    [Fact]
    public async Task Routes_hold_from_the_next_change_on_and_a_way_that_is_the_same_is_left_alone()
    {
        await using var one = await WebhookReceiver.StartAsync();
        await using var other = await WebhookReceiver.StartAsync();
        await using var haul = new RunningHaul(_premise.Data);
        await using var deliveries = _premise.Open(Hooks(("one", one.Url), ("other", other.Url)).Replace("\"to\": [\"one\", \"other\"]", "\"to\": [\"one\"] }, { \"to\": [\"other\"], \"fleets\": [\"south\"]", StringComparison.Ordinal), haul.Clock);
        deliveries.Follow(haul.Desk);
        deliveries.Start();
        deliveries.Take(_premise.Configuration(Hooks(("one", one.Url), ("other", other.Url)).Replace("\"to\": [\"one\", \"other\"]", "\"to\": [\"other\"] }, { \"to\": [\"one\"], \"fleets\": [\"south\"]", StringComparison.Ordinal)));
        haul.Send();
        await Eventually.Holds(() => other.Taken.Length > 0, () => $"{haul.Changes.Length} changes");
        Assert.Empty(one.Posts);
    }

    [Fact]
    public void What_a_running_service_takes_is_said_and_what_it_does_not_is_said_to_wait()
    {
        var one = _premise.Configuration(Hooks(("office", "http://127.0.0.1:9/")));
        var two = _premise.Configuration(Hooks(("branch", "http://127.0.0.1:9/"), ("office", "http://127.0.0.1:9/")));
        Assert.Equal("Who is told of alerts, and how, holds as it is set now. Told from now on: branch.", Said(one, one, two));
        Assert.Equal("Who is told of alerts, and how, holds as it is set now. Told nothing more, and what waited is given up: branch.", Said(two, two, one));
        Assert.Equal("", Said(one, one, one));
        var other = new Secret("whsec_" + Convert.ToBase64String(new byte[32]));
        Assert.Equal("Who is told of alerts, and how, holds as it is set now.", Said(one, one, one with { WebhookSecrets = one.WebhookSecrets.SetItem("office", other) }));
        var byMqtt = _premise.Configuration(Hooks(("office", "http://127.0.0.1:9/")).Replace("{ \"recipients\"", "{ \"mqtt\": { \"alerts\": true }, \"recipients\"", StringComparison.Ordinal));
        Assert.Equal("delivery.mqtt waits", Said(one, one, byMqtt));
        Assert.Equal("", Said(one, byMqtt, one));
        var none = one with { Settings = one.Settings with { Delivery = null }, WebhookSecrets = one.WebhookSecrets.Clear() };
        Assert.Equal("delivery waits", Said(one, one, none));
        // Where nobody is told, nobody is said to be told, however often it is set anew.
        Assert.Equal("delivery waits", Said(null, none, one));
        Assert.Equal("delivery waits", Said(null, one, two));
        Assert.Equal("", Said(null, two, none));
        Assert.All((ServiceConfiguration[])[two, byMqtt, none], next => Assert.Empty(RestartCheck.Run(one, next)));
    }

    private static string Said(ServiceConfiguration? running, ServiceConfiguration before, ServiceConfiguration after)
    {
        var change = RecipientChange.Of(running, before, after);
        return string.Join(" ", [.. change.Told is { } told ? (string[])[told] : [], .. change.AfterRestart.Select(l => $"{l} waits")]);
    }

    [Fact]
    public async Task A_service_that_began_without_delivery_says_of_no_recipient_that_he_is_told()
    {
        await using var run = await RunAsync(null);
        await run.SaidOf(Hooks(("office", "http://127.0.0.1:9/")), "No: delivery changed: it holds after a restart.");
        await run.SaidOf(Hooks(("branch", "http://127.0.0.1:9/")), "No: delivery changed: it holds after a restart.");
        Assert.Null(run.Service.Deliveries);
        Assert.DoesNotContain(run.Said, s => s.Contains("Who is told", StringComparison.Ordinal));
    }

    [Fact]
    public async Task Delivery_that_is_put_back_with_others_is_said_to_hold_as_it_does()
    {
        await using var run = await RunAsync(Hooks(("office", "http://127.0.0.1:9/")));
        await run.SaidOf(null, "No: delivery changed: it holds after a restart.");
        Assert.Equal(["office"], run.Service.Deliveries!.States().Select(s => s.Recipient));
        await run.SaidOf(Hooks(("branch", "http://127.0.0.1:9/")), "Yes: Who is told of alerts, and how, holds as it is set now. Told from now on: branch. Told nothing more, and what waited is given up: office.");
        Assert.Equal(["branch"], run.Service.Deliveries!.States().Select(s => s.Recipient));
    }

    private async Task<RunningFleet> RunAsync(string? delivery)
    {
        var said = new ConcurrentQueue<string>();
        var around = new Surroundings { Clock = _clock, TellConfiguration = (taken, sentence) => said.Enqueue($"{(taken ? "Yes" : "No")}: {sentence}") };
        var further = $", \"embedded_broker\": {{ \"listen\": \"127.0.0.1:{Mosquitto.FreePort()}\" }}";
        var started = Assert.IsType<ServiceStart.Started>(await FleetService.StartAsync(_premise.Settings, _premise.Configuration(delivery, further), around));
        return new RunningFleet(started.Service, said, (set, sentence) =>
        {
            _premise.Configuration(set, further);
            said.Clear();
            return Premise.Until(_clock, () => said.Contains(sentence), () => string.Join('\n', said));
        });
    }

    /// <summary>The service without its pages, and what it says of its configuration.</summary>
    private sealed record RunningFleet(FleetService Service, ConcurrentQueue<string> Said, Func<string?, string, Task> SaidOf) : IAsyncDisposable
    {
        public ValueTask DisposeAsync() => Service.DisposeAsync();
    }

    private static string Mail => """
        { "mail": { "host": "localhost", "port": 9, "from": "axles@fleet.example", "tls": "none" }, "recipients": { "office": { "mail": "office@fleet.example" } }, "routes": [{ "to": ["office"] }] }
        """;

    private static string Hooks(params ReadOnlySpan<(string Name, string Url)> hooks)
    {
        var (recipients, names) = (new List<string>(), new List<string>());
        foreach (var (name, url) in hooks)
        {
            recipients.Add($$"""{{"\""}}{{name}}": { "webhook": { "url": "{{url}}", "secret_file": "hook.secret" } }""");
            names.Add($"\"{name}\"");
        }

        return $$"""{ "recipients": { {{string.Join(", ", recipients)}} }, "routes": [{ "to": [{{string.Join(", ", names)}}] }] }""";
    }

    private Moment? Held()
    {
        using var file = DeliveryFile.Open(_premise.Data);
        return file.InOneStep(book => book.HeldUntil("office"));
    }

    private OutletWays Ways(string delivery)
    {
        var configuration = _premise.Configuration(delivery);
        return new OutletWays(configuration, configuration.Settings.Delivery!, null);
    }

    private void Add(string to, params string[] messages)
    {
        using var file = DeliveryFile.Open(_premise.Data);
        file.InOneStep(book =>
        {
            foreach (var message in messages) book.Add(new NewParcel(message, to, Told.Id, ParcelKind.Change) { IsUrgent = false, At = _clock.Now(), Bytes = Told.Bytes() });
        });
    }
}
