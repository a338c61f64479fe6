using System.Collections.Immutable;
using System.Text;
using System.Text.Json;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Telling;
using AxleTelemetry.Messages.Settings;
using AxleTelemetry.Messages.Tests.VehicleFiles;
using AxleTelemetry.Messages.VehicleFiles;
using Json.Schema;

namespace AxleTelemetry.Messages.Tests.Settings;

public sealed class SettingsFileTests
{
    /// <summary>Problems that only settings can have, each of which a test here shows.</summary>
    public static readonly ImmutableArray<ProblemKind> OwnKinds =
        [ProblemKind.Contradiction, ProblemKind.NeededWith, ProblemKind.NoSuchFleet, ProblemKind.InNoShard, ProblemKind.InTwoShards, ProblemKind.Readable, ProblemKind.NoSuchRecipient, ProblemKind.NotRouted];

    private const string Fleets = "\"data_directory\": \"data\", \"fleets\": { \"north\": { \"vehicles\": \"v\" }, \"south\": { \"vehicles\": \"w\" } }";

    [Fact]
    public void What_is_not_written_takes_its_default()
    {
        var settings = Accepted("");
        Assert.Equal("127.0.0.1:1883", Assert.IsType<BrokerSettings.Embedded>(settings.Broker).Listen.ToString());
        Assert.Equal(("127.0.0.1:8080", null), (settings.Http.Listen.ToString(), settings.Http.ApiTokenFile));
        Assert.Equal((64L << 20, 90, 3, 60.0), (settings.Bounds.BytesInFlight, settings.Bounds.RawDays, settings.Bounds.RegisterYears, settings.AllowedClockSkew.TotalSeconds));
        Assert.Equal(["north", "south"], Assert.Single(settings.Shards).Fleets);
        Assert.Equal("main", settings.Shards[0].Name);
        Assert.Equal(TripKind.Unknown, settings.Fleets[0].Trip.Trip);
        var broker = Assert.IsType<BrokerSettings.External>(Accepted("\"broker\": { \"host\": \"broker.example\" }").Broker);
        Assert.Equal((1883, "axletelemetry-main", 7.0), (broker.Port, broker.ClientIdOf("main"), broker.SessionExpiry.TotalDays));
        Assert.Equal(8883, Assert.IsType<BrokerSettings.External>(Accepted("\"broker\": { \"host\": \"broker.example\", \"tls\": true }").Broker).Port);
    }

    [Fact]
    public void Everything_that_is_written_is_read()
    {
        var settings = Accepted("""
            "broker": { "host": "b.example", "port": 9, "tls": true, "ca_file": "ca.pem", "certificate_file": "own.pem", "key_file": "own.key", "username": "u", "password_file": "p", "client_id": "c", "session_expiry_s": 60 },
            "http": { "listen": "0.0.0.0:80", "api_token_file": "t", "public_address": "https://axles.example:8443" },
            "series": { "url": "https://series.example:8086", "organisation": "o", "bucket": "axles", "token_file": "s" },
            "shards": { "b": ["south"], "a": ["north"] },
            "bounds": { "bytes_in_flight": 1048576, "raw_days": 7, "register_years": 5 }, "allowed_clock_skew_s": 2.5
            """);
        Assert.Equal(
            new BrokerSettings.External { Host = "b.example", Port = 9, Tls = true, CaFile = "ca.pem", CertificateFile = "own.pem", KeyFile = "own.key", Username = "u", PasswordFile = "p", ClientId = "c", SessionExpiry = TimeSpan.FromMinutes(1) },
            settings.Broker);
        Assert.Equal(new SeriesSettings(new Uri("https://series.example:8086"), "o", "axles", "s"), settings.Series);
        Assert.Equal(("0.0.0.0:80", "t"), (settings.Http.Listen.ToString(), settings.Http.ApiTokenFile));
        Assert.Equal(["a: north", "b: south"], settings.Shards.Select(s => $"{s.Name}: {string.Join(' ', s.Fleets)}"));
        Assert.Equal((1L << 20, 7, 5, 2500.0), (settings.Bounds.BytesInFlight, settings.Bounds.RawDays, settings.Bounds.RegisterYears, settings.AllowedClockSkew.TotalMilliseconds));
    }

    private static string Delivery(string route) => $$"""
        "delivery": { "recipients": { "office": { "webhook": { "url": "https://office.example/alerts", "secret_file": "s" } } }, "routes": [{ {{route}} }] }
        """;

    [Fact]
    public void Who_is_told_is_read_whole_with_its_defaults()
    {
        var delivery = Accepted("""
            "delivery": {
              "mqtt": { "alerts": true },
              "mail": { "host": "mail.example", "username": "axles", "password_file": "p", "from": "axles@fleet.example" },
              "recipients": {
                "office": { "webhook": { "url": "https://office.example/alerts", "secret_file": "s" } },
                "anna": { "mail": "anna@fleet.example", "language": "de", "most_per_hour": 4 },
                "boss": { "mail": "boss@fleet.example", "changes": "all" } },
              "routes": [
                { "to": ["office"] },
                { "to": ["anna"], "fleets": ["north"], "kinds": ["overload", "vehicle_silent"], "least_priority": "medium", "least_level": "likely",
                  "escalation": [{ "after_min": 30, "to": ["office"] }, { "after_min": 10, "to": ["boss"] }] }] }
            """).Delivery!;
        Assert.Equal((true, false), (delivery.AlertsByMqtt, delivery.AdviceByMqtt));
        Assert.Equal((587, MailTls.StartTls, 24.0), (delivery.Mail!.Port, delivery.Mail.Tls, delivery.Mail.GiveUpAfter.TotalHours));
        Assert.Equal(["anna False 4 De", "boss True 6 En", "office True  En"], delivery.Recipients.Select(r => FormattableString.Invariant($"{r.Name} {r.TellsAll} {r.MostPerHour} {r.Language}")));
        Assert.Equal(24.0, Assert.IsType<OutletSettings.Webhook>(delivery.Find("office")!.Outlet).GiveUpAfter.TotalHours);
        Assert.Equal(new RouteSettings(["anna"])
        {
            Fleets = ["north"], Kinds = [FindingKind.Overload, null], LeastPriority = AlertPriority.Medium, LeastLevel = Level.Likely,
            Escalation = [new EscalationSettings(TimeSpan.FromMinutes(10), ["boss"]), new EscalationSettings(TimeSpan.FromMinutes(30), ["office"])],
        }, delivery.Routes[1]);
        Assert.True(DeliverySettings.Same(delivery, delivery with { }));
        Assert.False(DeliverySettings.Same(delivery, delivery with { AdviceByMqtt = true }));
    }

    public static TheoryData<ProblemKind, string, string> Wrong => new()
    {
        { ProblemKind.Contradiction, "$.embedded_broker", "\"broker\": { \"host\": \"b\" }, \"embedded_broker\": {}" },
        { ProblemKind.NeededWith, "$.http.public_address", "\"http\": { \"listen\": \"0.0.0.0:8080\" }" },
        { ProblemKind.NeededWith, "$.http.public_address", "\"http\": { \"listen\": \"[::]:8080\" }" },
        { ProblemKind.NeededWith, "$.embedded_broker.credentials_file", "\"embedded_broker\": { \"listen\": \"192.0.2.1:1883\" }" },
        { ProblemKind.NeededWith, "$.embedded_broker.access", "\"embedded_broker\": { \"listen\": \"192.0.2.1:1883\", \"credentials_file\": \"c\" }" },
        { ProblemKind.NeededWith, "$.embedded_broker.credentials_file", "\"embedded_broker\": { \"access\": [{ \"fleet\": \"north\" }] }" },
        { ProblemKind.NeededWith, "$.broker.username", "\"broker\": { \"host\": \"b\", \"password_file\": \"p\", \"tls\": true }" },
        { ProblemKind.NeededWith, "$.broker.tls", "\"broker\": { \"host\": \"b\", \"ca_file\": \"p\" }" },
        { ProblemKind.NeededWith, "$.broker.tls", "\"broker\": { \"host\": \"b\", \"certificate_file\": \"p\", \"key_file\": \"k\" }" },
        { ProblemKind.NeededWith, "$.broker.key_file", "\"broker\": { \"host\": \"b\", \"tls\": true, \"certificate_file\": \"p\" }" },
        { ProblemKind.NeededWith, "$.broker.certificate_file", "\"broker\": { \"host\": \"b\", \"tls\": true, \"key_file\": \"k\" }" },
        { ProblemKind.NoSuchFleet, "$.shards.a[1]", "\"shards\": { \"a\": [\"north\", \"sout\"] }" },
        { ProblemKind.NoSuchFleet, "$.embedded_broker.access[0].fleet", "\"embedded_broker\": { \"credentials_file\": \"c\", \"access\": [{ \"fleet\": \"west\" }] }" },
        { ProblemKind.InNoShard, "$.shards", "\"shards\": { \"a\": [\"north\"] }" },
        { ProblemKind.InTwoShards, "$.shards.b[0]", "\"shards\": { \"a\": [\"north\", \"south\"], \"b\": [\"north\"] }" },
        { ProblemKind.BadText, "$.http.public_address", "\"http\": { \"public_address\": \"http://axles.example\" }" },
        { ProblemKind.BadText, "$.http.public_address", "\"http\": { \"public_address\": \"https://axles.example/pages\" }" },
        { ProblemKind.BadText, "$.http.public_address", "\"http\": { \"public_address\": \"axles.example\" }" },
        { ProblemKind.BadText, "$.http.listen", "\"http\": { \"listen\": \"8080\" }" },
        { ProblemKind.BadText, "$.http.listen", "\"http\": { \"listen\": \"127.1:8080\" }" },
        { ProblemKind.BadText, "$.http.listen", "\"http\": { \"listen\": \"127.0.0.1:0\" }" },
        { ProblemKind.BadText, "$.series.url", "\"series\": { \"url\": \"http://hunter2@series.example\", \"organisation\": \"o\", \"bucket\": \"b\", \"token_file\": \"s\" }" },
        { ProblemKind.BadText, "$.series.url", "\"series\": { \"url\": \"series.example:8086\", \"organisation\": \"o\", \"bucket\": \"b\", \"token_file\": \"s\" }" },
        { ProblemKind.Missing, "$.series.token_file", "\"series\": { \"url\": \"https://series.example\", \"organisation\": \"o\", \"bucket\": \"b\" }" },
        { ProblemKind.NoSuchRecipient, "$.delivery.routes[0].to[1]", Delivery("\"to\": [\"office\", \"ofice\"]") },
        { ProblemKind.NoSuchRecipient, "$.delivery.routes[0].escalation[0].to[0]", Delivery("\"to\": [\"office\"], \"escalation\": [{ \"after_min\": 10, \"to\": [\"boss\"] }]") },
        { ProblemKind.NotUnique, "$.delivery.routes[0].escalation", Delivery("\"to\": [\"office\"], \"escalation\": [{ \"after_min\": 10, \"to\": [\"office\"] }, { \"after_min\": 10, \"to\": [\"office\"] }]") },
        { ProblemKind.NoSuchFleet, "$.delivery.routes[0].fleets[0]", Delivery("\"to\": [\"office\"], \"fleets\": [\"west\"]") },
        { ProblemKind.NotAChoice, "$.delivery.routes[0].kinds[0]", Delivery("\"to\": [\"office\"], \"kinds\": [\"overlod\"]") },
        { ProblemKind.NotAChoice, "$.delivery.routes[0].least_priority", Delivery("\"to\": [\"office\"], \"least_priority\": \"urgent\"") },
        { ProblemKind.NeededWith, "$.delivery.recipients.anna.webhook", "\"delivery\": { \"recipients\": { \"anna\": { \"language\": \"de\" } }, \"routes\": [{ \"to\": [\"anna\"] }] }" },
        { ProblemKind.NeededWith, "$.delivery.mail", "\"delivery\": { \"recipients\": { \"anna\": { \"mail\": \"anna@fleet.example\" } }, \"routes\": [{ \"to\": [\"anna\"] }] }" },
        { ProblemKind.NeededWith, "$.delivery.mail.password_file", "\"delivery\": { \"mail\": { \"host\": \"m.example\", \"from\": \"a@b.example\", \"username\": \"u\" } }" },
        { ProblemKind.BadText, "$.delivery.mail.from", "\"delivery\": { \"mail\": { \"host\": \"m.example\", \"from\": \"no address\" } }" },
        { ProblemKind.BadText, "$.delivery.recipients.office.webhook.url", "\"delivery\": { \"recipients\": { \"office\": { \"webhook\": { \"url\": \"ftp://office.example\", \"secret_file\": \"s\" } } }, \"routes\": [{ \"to\": [\"office\"] }] }" },
        { ProblemKind.BadText, "$.broker.host", "\"broker\": { \"host\": \"mqtt://b\" }" },
        { ProblemKind.BadText, "$.shards['a b']", "\"shards\": { \"a b\": [\"north\", \"south\"] }" },
        { ProblemKind.OutOfRange, "$.broker.session_expiry_s", "\"broker\": { \"host\": \"b\", \"session_expiry_s\": 0 }" },
        { ProblemKind.WrongCount, "$.shards", "\"shards\": {}" },
        { ProblemKind.BadText, "$.shards.people", "\"shards\": { \"people\": [\"north\", \"south\"] }" },
        { ProblemKind.UnknownName, "$.broker.password", "\"broker\": { \"host\": \"b\", \"password\": \"hunter2\" }" },
    };

    [Theory, MemberData(nameof(Wrong))]
    public void A_mistake_is_refused_at_its_place_with_what_would_be_right(ProblemKind kind, string path, string text)
    {
        var problems = Assert.IsType<SettingsResult.Refused>(Parse(text)).Problems;
        var problem = Assert.Single(problems, p => !p.IsWarning);
        Assert.Equal((kind, path), (problem.Kind, problem.Path));
        Assert.True(problem.Place.Line > 0 && problem.Right.Length > 0);
        Assert.DoesNotContain("hunter2", problem.ToString(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("\"broker\": { \"host\": \"b\", \"username\": \"u\", \"password_file\": 4711 }")]
    [InlineData("\"http\": { \"api_token_file\": [4711] }")]
    public void What_stands_where_a_secrets_file_belongs_is_never_shown(string text) =>
        Assert.DoesNotContain("4711", string.Join(' ', Assert.IsType<SettingsResult.Refused>(Parse(text)).Problems), StringComparison.Ordinal);

    [Theory]
    [InlineData("\"broker\": { \"host\": \"b\", \"username\": \"u\", \"password_file\": \"p\" }", "$.broker.tls")]
    [InlineData("\"series\": { \"url\": \"http://series.example\", \"organisation\": \"o\", \"bucket\": \"b\", \"token_file\": \"s\" }", "$.series.url")]
    [InlineData("\"embedded_broker\": { \"listen\": \"192.0.2.1:1883\", \"credentials_file\": \"c\", \"access\": [{ \"fleet\": \"north\" }] }", "$.embedded_broker.listen")]
    public void Passwords_that_others_can_read_are_odd_but_possible(string text, string path)
    {
        var problem = Assert.Single(Assert.IsType<SettingsResult.Accepted>(Parse(text)).Warnings);
        Assert.Equal((ProblemKind.Readable, path), (problem.Kind, problem.Path));
    }

    [Fact]
    public void Many_mistakes_are_told_at_once()
    {
        var problems = SettingsFile.Parse("{ \"http\": { \"listen\": \"0.0.0.0:1\" }, \"fleets\": { \"a\": { \"trip\": \"local\" } }, \"shards\": { \"s\": [\"b\"] } }"u8).Problems;
        Assert.Equal(["$.data_directory", "$.fleets.a.trip", "$.fleets.a.vehicles", "$.http.public_address", "$.shards.s[0]"],
            problems.Select(p => p.Path).Order(StringComparer.Ordinal));
    }

    [Fact]
    public void An_access_rule_lets_a_device_act_for_its_own_vehicle_or_those_stated()
    {
        var own = new AccessRule("north", null, null);
        Assert.True(own.Allows("TR-04", "north", "TR-04"));
        Assert.False(own.Allows("TR-04", "north", "TR-05"));
        Assert.False(own.Allows("TR-04", "south", "TR-04"));
        Assert.True(new AccessRule("north", "gateway", null).Allows("gateway", "north", "TR-05"));
        Assert.False(new AccessRule("north", "gateway", "TR-04").Allows("gateway", "north", "TR-05"));
        Assert.False(new AccessRule("north", null, "TR-04").Allows("TR-05", "north", "TR-05"));
    }

    [Fact]
    public void Parser_and_schema_agree_and_the_example_holds_by_both()
    {
        using var stream = SettingsFile.OpenSchema();
        using var schema = JsonDocument.Parse(stream);
        new SchemaAgreement(schema.RootElement).OnObject(SettingsShape.Settings, schema.RootElement, "$");
        var example = Examples.Bytes("service/axletelemetry.json");
        Assert.Empty(Assert.IsType<SettingsResult.Accepted>(SettingsFile.Parse(example)).Warnings);
        using var document = JsonDocument.Parse(example, new JsonDocumentOptions { CommentHandling = JsonCommentHandling.Skip, AllowTrailingCommas = true });
        Assert.True(JsonSchema.FromText(schema.RootElement.GetRawText()).Evaluate(document.RootElement).IsValid);
    }

    [Fact]
    public void The_defaults_that_editors_show_are_those_that_hold()
    {
        using var stream = SettingsFile.OpenSchema();
        using var schema = JsonDocument.Parse(stream);
        var parts = schema.RootElement.GetProperty("$defs");
        JsonElement Default(string part, string name) => parts.GetProperty(part).GetProperty("properties").GetProperty(name).GetProperty("default");
        var (settings, broker) = (Accepted(""), new BrokerSettings.External { Host = "", Port = 1 });
        Assert.Equal(settings.Bounds.BytesInFlight, Default("bounds", "bytes_in_flight").GetInt64());
        Assert.Equal(settings.Bounds.RawDays, Default("bounds", "raw_days").GetInt32());
        Assert.Equal(settings.Bounds.RegisterYears, Default("bounds", "register_years").GetInt32());
        Assert.Equal(settings.Http.Listen.ToString(), Default("http", "listen").GetString());
        Assert.Equal(BrokerSettings.Embedded.DefaultListen, Default("embedded_broker", "listen").GetString());
        Assert.Equal((broker.ClientId, broker.SessionExpiry.TotalSeconds), (Default("broker", "client_id").GetString(), Default("broker", "session_expiry_s").GetDouble()));
        Assert.Equal(settings.AllowedClockSkew.TotalSeconds, schema.RootElement.GetProperty("properties").GetProperty("allowed_clock_skew_s").GetProperty("default").GetDouble());
    }

    private static SettingsResult Parse(string more) => SettingsFile.Parse(Encoding.UTF8.GetBytes($"{{ {more}{(more.Length > 0 ? "," : "")} {Fleets} }}"));

    private static ServiceSettings Accepted(string more) => Assert.IsType<SettingsResult.Accepted>(Parse(more)).Settings;
}
