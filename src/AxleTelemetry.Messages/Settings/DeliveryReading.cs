using System.Collections.Immutable;
using System.Net;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Telling;
using AxleTelemetry.Messages.VehicleFiles;

namespace AxleTelemetry.Messages.Settings;

/// <summary>Reads who is told of alerts and how, and holds that every name is somebody and every recipient hears something.</summary>
internal sealed class DeliveryReading(Node root, Problems problems)
{
    private const int SubmissionPort = 587, ImplicitPort = 465, PlainPort = 25;

    private readonly HashSet<string> _named = new(StringComparer.Ordinal);
    private ImmutableArray<string> _recipients = [];

    /// <summary>The settings; <c>null</c> where there are none. What is in error is among the problems.</summary>
    public DeliverySettings? Read()
    {
        if (root.Part("delivery") is not { } node) return null;
        _recipients = node.KeysOf("recipients");
        var mail = node.Part("mail") is { } server ? Mail(server) : null;
        var recipients = node.NamedParts("recipients").Select(r => Recipient(r.Name, r.Part, node)).OfType<RecipientSettings>().OrderBy(r => r.Name, StringComparer.Ordinal).ToImmutableArray();
        var routes = node.Parts("routes").Select(Route).ToImmutableArray();
        foreach (var (name, part) in node.NamedParts("recipients"))
            if (!_named.Contains(name))
                problems.Add(ProblemKind.NotRouted, part.Path, $"'{name}'", "No route leads to it, so it is told nothing. Name it in 'routes'.");
        var mqtt = node.Part("mqtt");
        return new DeliverySettings { AlertsByMqtt = mqtt?.Flag("alerts") ?? false, AdviceByMqtt = mqtt?.Flag("advice") ?? false, Mail = mail, Recipients = recipients, Routes = routes };
    }

    private MailSettings? Mail(Node node)
    {
        if (node.Has("password_file") != node.Has("username"))
            problems.Add(ProblemKind.NeededWith, node.PathOf(node.Has("username") ? "password_file" : "username"), "", "'username' and 'password_file' stand together, or neither.");
        var tls = node.Word<MailTls>("tls") ?? MailTls.StartTls;
        if (tls == MailTls.None && node.Has("ca_file")) problems.Add(ProblemKind.NeededWith, node.PathOf("tls"), "'none'", "Authorities in 'ca_file' are asked only with encryption: 'start-tls' or 'implicit'.");
        if (node.Text("host") is not { } host || node.Text("from") is not { } from) return null;
        if (!IsHere(host) && tls == MailTls.None) problems.Add(ProblemKind.Readable, node.PathOf("tls"), "'none'", "Alerts, and the password if there is one, cross the network unencrypted. Use 'start-tls' or 'implicit' where the server can.");
        Address(from, node.PathOf("from"));
        return new MailSettings(host, (int?)node.Number("port") ?? tls switch { MailTls.StartTls => SubmissionPort, MailTls.Implicit => ImplicitPort, _ => PlainPort }, tls, from)
        {
            Username = node.Text("username"), PasswordFile = node.Text("password_file"), CaFile = node.Text("ca_file"), GiveUpAfter = GiveUp(node),
        };
    }

    private RecipientSettings? Recipient(string name, Node node, Node delivery)
    {
        if (node.Has("webhook") == node.Has("mail"))
        {
            problems.Add(node.Has("mail") ? ProblemKind.Contradiction : ProblemKind.NeededWith, node.PathOf("webhook"), node.Has("mail") ? "'webhook' and 'mail'" : "", "A recipient has one way: 'webhook' or 'mail'.");
            return null;
        }

        if (node.Has("mail") && !delivery.Has("mail"))
            problems.Add(ProblemKind.NeededWith, delivery.PathOf("mail"), "", $"The recipient '{name}' is told by mail, so the server that takes mail is needed: 'mail' with 'host' and 'from'.");
        OutletSettings? outlet = node.Text("mail") is { } address && Address(address, node.PathOf("mail")) ? new OutletSettings.Mail(address) : node.Part("webhook") is { } hook ? Webhook(hook) : null;
        if (outlet is null) return null;
        // A mail is read by a person, and a person has a limit unless more is said.
        var isPerson = outlet is OutletSettings.Mail;
        return new RecipientSettings(name, outlet, node.Word<Language>("language") ?? Language.En)
        {
            TellsAll = node.Text("changes") is { } changes ? changes == "all" : !isPerson,
            MostPerHour = (int?)node.Number("most_per_hour") ?? (isPerson ? AlarmRate.AcceptablePerHour : null),
        };
    }

    private OutletSettings? Webhook(Node node)
    {
        if (node.Text("url") is not { } url || node.Text("secret_file") is not { } secret) return null;
        // Of receivers the path is often a secret itself.
        if (!Uri.TryCreate(url, UriKind.Absolute, out var address) || address.Scheme is not ("http" or "https") || address.UserInfo.Length > 0 || address.Fragment.Length > 0)
        {
            problems.Add(ProblemKind.BadText, node.PathOf("url"), address?.UserInfo.Length > 0 ? "an address with a user in it" : "something that is not shown", "Right is an address such as https://office.example/alerts, without a user and a fragment.");
            return null;
        }

        if (address.Scheme == "http" && !address.IsLoopback) problems.Add(ProblemKind.Readable, node.PathOf("url"), $"'{address.GetLeftPart(UriPartial.Authority)}'", "Alerts cross the network unencrypted: signed, but for everybody to read. Use https where the other side can.");
        return new OutletSettings.Webhook(address, secret, GiveUp(node));
    }

    private RouteSettings Route(Node node)
    {
        var fleets = new FleetNames(root, problems);
        foreach (var (fleet, path) in node.Texts("fleets")) fleets.Refer(fleet, path);
        var escalation = node.Parts("escalation").Select(Escalation).OfType<EscalationSettings>().OrderBy(e => e.After).ToImmutableArray();
        foreach (var twice in escalation.GroupBy(e => e.After).Where(g => g.Count() > 1))
            problems.Add(ProblemKind.NotUnique, node.PathOf("escalation"), FormattableString.Invariant($"{twice.Key.TotalMinutes:0} min twice"), "Each step has a time of its own; name all its recipients in one.");
        return new RouteSettings(To(node))
        {
            Fleets = [.. node.Texts("fleets").Select(f => f.Text)],
            Kinds = [.. node.Texts("kinds").Select(k => DeliveryShape.Kind(k.Text))],
            LeastPriority = node.Word<AlertPriority>("least_priority") ?? AlertPriority.Low,
            LeastLevel = node.Word<Level>("least_level") ?? Level.Clear,
            Escalation = escalation,
        };
    }

    private EscalationSettings? Escalation(Node node)
    {
        var to = To(node);
        return node.Number("after_min") is { } minutes ? new EscalationSettings(TimeSpan.FromMinutes(minutes), to) : null;
    }

    private ImmutableArray<string> To(Node node)
    {
        foreach (var (name, path) in node.Texts("to"))
        {
            _named.Add(name);
            if (_recipients.Contains(name)) continue;
            var meant = Nearest.To(name, _recipients) is { } near ? $" Did you mean '{near}'?" : "";
            problems.Add(ProblemKind.NoSuchRecipient, path, $"'{name}'", $"No recipient has that name. Recipients are {(_recipients.IsEmpty ? "none" : string.Join(", ", _recipients))}.{meant}");
        }

        return [.. node.Texts("to").Select(t => t.Text).Distinct()];
    }

    // What mail servers take is theirs to say; this keeps out what cannot be one address, above all a line break that would make a header of its own.
    private bool Address(string text, string path)
    {
        if (text.Split('@') is [{ Length: > 0 }, { Length: > 0 }] && !text.Any(c => char.IsWhiteSpace(c) || char.IsControl(c) || c is '<' or '>' or ',' or ';' or '"')) return true;
        problems.Add(ProblemKind.BadText, path, $"'{text}'", "Right is one mail address alone, such as anna@fleet.example.");
        return false;
    }

    private static TimeSpan GiveUp(Node node) => node.Number("give_up_after_min") is { } minutes ? TimeSpan.FromMinutes(minutes) : MailSettings.DefaultGiveUp;

    private static bool IsHere(string host) => host == "localhost" || IPAddress.TryParse(host, out var address) && IPAddress.IsLoopback(address);
}
