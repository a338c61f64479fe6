using System.Net;
using AxleTelemetry.Messages.VehicleFiles;

namespace AxleTelemetry.Messages.Settings;

/// <summary>Reads where messages come from, and holds that strangers cannot send any.</summary>
internal sealed class BrokerReading(Problems problems)
{
    private const int Port = 1883, TlsPort = 8883;

    /// <summary>The settings, or <c>null</c> where something is in error.</summary>
    public BrokerSettings? Read(Node root)
    {
        if (root.Has("broker") && root.Has("embedded_broker"))
            problems.Add(ProblemKind.Contradiction, root.PathOf("embedded_broker"), "'broker' and 'embedded_broker'",
                "Messages come from one of them: remove the other.");
        var embedded = Embedded(root, root.Part("embedded_broker"));
        return root.Has("broker") ? root.Part("broker") is { } broker ? External(broker) : null : embedded;
    }

    private BrokerSettings.External? External(Node node)
    {
        var tls = node.Flag("tls") ?? false;
        Together(node, "password_file", "username");
        Together(node, "certificate_file", "key_file");
        Together(node, "key_file", "certificate_file");
        if (!tls && (node.Has("ca_file") ? "Authorities in 'ca_file' are asked" : node.Has("certificate_file") ? "A certificate is shown" : null) is { } useless)
            problems.Add(ProblemKind.NeededWith, node.PathOf("tls"), node.Has("tls") ? "false" : "", $"{useless} only with 'tls': true.");
        if (node.Text("host") is not { } host) return null;
        if (host.Any(c => char.IsWhiteSpace(c) || c is '/' or '@'))
            problems.Add(ProblemKind.BadText, node.PathOf("host"), "'" + host.Split('@')[^1] + "'", "Right is a name or an address alone, for example broker.example; the port and the user have properties of their own.");
        if (node.Has("password_file") && !tls && !IsHere(host))
            problems.Add(ProblemKind.Readable, node.PathOf("tls"), node.Has("tls") ? "false" : "", "The password crosses the network unencrypted. Set 'tls': true where the broker can.");
        var plain = new BrokerSettings.External { Host = host, Port = (int?)node.Number("port") ?? (tls ? TlsPort : Port) };
        return plain with
        {
            Tls = tls,
            CaFile = node.Text("ca_file"),
            CertificateFile = node.Text("certificate_file"),
            KeyFile = node.Text("key_file"),
            Username = node.Text("username"),
            PasswordFile = node.Text("password_file"),
            ClientId = node.Text("client_id") ?? plain.ClientId,
            SessionExpiry = node.Number("session_expiry_s") is { } seconds ? TimeSpan.FromSeconds(seconds) : plain.SessionExpiry,
        };
    }

    private BrokerSettings.Embedded? Embedded(Node root, Node? node)
    {
        if (HttpReading.Listen(problems, node, BrokerSettings.Embedded.DefaultListen) is not { } listen) return null;
        if (node is null) return new BrokerSettings.Embedded { Listen = listen };
        if (!listen.IsLoopback) Guard(node, listen);
        Together(node, "credentials_file", "access");
        Together(node, "access", "credentials_file");
        return new BrokerSettings.Embedded { Listen = listen, CredentialsFile = node.Text("credentials_file"), Access = [.. node.Parts("access").Select(rule => Rule(root, rule)).OfType<AccessRule>()] };
    }

    private void Guard(Node node, ListenAddress listen)
    {
        if (!node.Has("credentials_file") && !node.Has("access"))
            problems.Add(ProblemKind.NeededWith, node.PathOf("credentials_file"), "",
                $"Others reach {listen}, so 'credentials_file' and 'access' are needed. Without them only an address of this machine alone is right, for example {BrokerSettings.Embedded.DefaultListen}.");
        else problems.Add(ProblemKind.Readable, node.PathOf("listen"), listen.ToString(), "Passwords of devices cross the network unencrypted. Keep it to a network of your own, or use a broker with TLS.");
    }

    private AccessRule? Rule(Node root, Node rule)
    {
        if (rule.Text("fleet") is not { } fleet) return null;
        new FleetNames(root, problems).Refer(fleet, rule.PathOf("fleet"));
        return new AccessRule(fleet, rule.Text("user"), rule.Text("vehicle"));
    }

    private void Together(Node node, string written, string needed)
    {
        if (node.Has(written) && !node.Has(needed))
            problems.Add(ProblemKind.NeededWith, node.PathOf(needed), "", $"'{written}' needs '{needed}' beside it.");
    }

    private static bool IsHere(string host) => host == "localhost" || IPAddress.TryParse(host, out var address) && IPAddress.IsLoopback(address);
}
