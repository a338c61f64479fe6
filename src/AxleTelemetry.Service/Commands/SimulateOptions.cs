using System.CommandLine;
using System.Globalization;
using System.Security.Cryptography;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Service.Inputs;
using AxleTelemetry.Service.Receiving;
using AxleTelemetry.Service.Simulating;
using AxleTelemetry.Simulator.Hauling;
using MQTTnet;

namespace AxleTelemetry.Service.Commands;

/// <summary>The options of <c>simulate</c>, and what they ask for.</summary>
internal sealed class SimulateOptions
{
    private const int MostVehicles = 2000, MostDays = 366;

    private readonly Option<string?> _out = new("--out") { Description = "Directory to write into; made where it is missing.", HelpName = "DIRECTORY" };
    private readonly Option<string?> _broker = new("--broker") { Description = "MQTT broker to send to. Port 1883 unless stated, with TLS 8883.", HelpName = "HOST[:PORT]" };
    private readonly Option<string?> _authorities = new("--ca") { Description = "With --broker: speak TLS, and trust these authorities alone (PEM).", HelpName = "FILE" };
    private readonly Option<string?> _certificate = new("--certificate") { Description = "Certificate to show to a broker that asks for one (PEM); with --ca and --key.", HelpName = "FILE" };
    private readonly Option<string?> _key = new("--key") { Description = "Private key of the certificate (PEM).", HelpName = "FILE" };
    private readonly Option<string?> _seed = new("--seed") { Description = "What everything is drawn from. Default 1.", HelpName = "NUMBER" };
    private readonly Option<string?> _vehicles = new("--vehicles") { Description = "Powered vehicles, seven kinds in turn. Default 7.", HelpName = "NUMBER" };
    private readonly Option<string?> _days = new("--days") { Description = "Days. Default 1.", HelpName = "NUMBER" };
    private readonly Option<string?> _rate = new("--rate") { Description = "Samples a second: 1 or 0.1. Default 1.", HelpName = "HZ" };
    private readonly Option<string?> _faults = new("--faults") { Description = "How often each fault and mistake occurs, per vehicle and day, 0 to 1. Default 0.05.", HelpName = "PART" };
    private readonly Option<string?> _start = new("--start") { Description = "First day, with --out. Default 2026-03-02.", HelpName = "DATE" };
    private readonly Option<string?> _pace = new("--pace") { Description = "How many times faster than time passes, with --broker. Default 1.", HelpName = "TIMES" };
    private readonly Option<bool> _untold = new("--no-tickets") { Description = "No weighbridge tickets: all that is known of a sensor is its handbook." };

    public IEnumerable<Option> All => [_out, _broker, _authorities, _certificate, _key, _seed, _vehicles, _days, _rate, _faults, _start, _pace, _untold];

    /// <summary>What is asked for, or <c>null</c> with every problem listed.</summary>
    public SimulationOrder? Read(ParseResult parsed, List<InputProblem> problems)
    {
        var into = Into(parsed, problems);
        var seed = Whole(parsed, (_seed, 1), (0, long.MaxValue), problems);
        var vehicles = (int)Whole(parsed, (_vehicles, 7), (1, MostVehicles), problems);
        var days = (int)Whole(parsed, (_days, 1), (1, MostDays), problems);
        var plan = new FleetPlan
        {
            Units = FleetPlan.InTurn(vehicles),
            EverySeconds = Rate(parsed, problems),
            Faults = FleetPlan.AllFaults(Number(parsed, (_faults, 0.05), (0, 1), problems)),
            Ticketed = !parsed.GetValue(_untold),
        };
        if (Start(parsed, problems) is { } start) plan = plan with { Start = start };
        return problems.Count > 0 || into is null ? null : new SimulationOrder((ulong)seed, plan, days, into);
    }

    private SimulationTarget? Into(ParseResult parsed, List<InputProblem> problems)
    {
        switch (parsed.GetValue(_out), parsed.GetValue(_broker))
        {
            case ({ Length: > 0 } directory, null):
                if (parsed.GetValue(_pace) is not null) problems.Add(new("--pace", "", "", "Only a broker is sent to at a pace."));
                if (parsed.GetValue(_authorities) is not null) problems.Add(new("--ca", "", "", "Only a broker is spoken to by TLS."));
                return new SimulationTarget.Files(directory);
            case (null, { } broker):
                if (parsed.GetValue(_start) is not null) problems.Add(new("--start", "", "", "What is sent to a broker is of now."));
                return Broker(broker, Number(parsed, (_pace, 1), (1, 10_000), problems), Tls(parsed, problems), problems);
            default:
                problems.Add(new("--out, --broker", "", "", "One of the two is needed, and not both."));
                return null;
        }
    }

    private TlsOptions? Tls(ParseResult parsed, List<InputProblem> problems)
    {
        var (authorities, certificate, key) = (parsed.GetValue(_authorities), parsed.GetValue(_certificate), parsed.GetValue(_key));
        if (certificate is null != key is null || certificate is not null && authorities is null)
            problems.Add(new("--ca, --certificate, --key", "", "", "A certificate needs its key beside it, and --ca."));
        foreach (var (option, file) in new[] { (_authorities, authorities), (_certificate, certificate), (_key, key) })
            if (file is not null && !File.Exists(file)) problems.Add(new(option.Name, "", $"'{file}'", "There is no such file."));
        return authorities is null || problems.Count > 0 ? null : Read(new TlsOptions { AuthorityFile = authorities, CertificateFile = certificate, KeyFile = key }, problems);
    }

    /// <summary>Read once before anything is drawn: what stands in the files would be wrong at every connection.</summary>
    private static TlsOptions? Read(TlsOptions tls, List<InputProblem> problems)
    {
        try
        {
            tls.Apply(new MqttClientTlsOptionsBuilder());
            return tls;
        }
        catch (Exception wrong) when (wrong is CryptographicException or IOException or UnauthorizedAccessException)
        {
            problems.Add(new("--ca, --certificate, --key", "", "", $"PEM files of authorities, of a certificate and of its unencrypted key belong here. {wrong.Message}"));
            return null;
        }
    }

    private static SimulationTarget.Broker? Broker(string text, double pace, TlsOptions? tls, List<InputProblem> problems)
    {
        if (Uri.TryCreate($"mqtt://{text}", UriKind.Absolute, out var uri) && uri.Host.Length > 0 && uri.UserInfo.Length == 0 && uri.PathAndQuery is "" or "/")
            return new SimulationTarget.Broker(uri.Host, uri.Port > 0 ? uri.Port : tls is null ? 1883 : 8883, pace, tls);
        problems.Add(new("--broker", "", $"'{text}'", "Right would be a host and a port, for example 127.0.0.1:1883."));
        return null;
    }

    private int Rate(ParseResult parsed, List<InputProblem> problems)
    {
        switch (parsed.GetValue(_rate))
        {
            case null or "1": return 1;
            case "0.1": return 10;
            case var other:
                problems.Add(new("--rate", "", $"'{other}'", "Right would be 1 or 0.1."));
                return 1;
        }
    }

    private Moment? Start(ParseResult parsed, List<InputProblem> problems)
    {
        if (parsed.GetValue(_start) is not { } text) return null;
        if (DateTimeOffset.TryParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal, out var day) && day.Year is >= 1971 and < 2100)
            return new Moment(day.ToUnixTimeMilliseconds());
        problems.Add(new("--start", "", $"'{text}'", "Right would be a day, for example 2026-03-02."));
        return null;
    }

    private static long Whole(ParseResult parsed, (Option<string?> Option, long Default) option, (long Least, long Most) range, List<InputProblem> problems)
    {
        if (parsed.GetValue(option.Option) is not { } text) return option.Default;
        if (long.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var value) && value >= range.Least && value <= range.Most) return value;
        problems.Add(new(option.Option.Name, "", $"'{text}'", FormattableString.Invariant($"Right would be a whole number from {range.Least} to {range.Most}.")));
        return option.Default;
    }

    private static double Number(ParseResult parsed, (Option<string?> Option, double Default) option, (double Least, double Most) range, List<InputProblem> problems)
    {
        if (parsed.GetValue(option.Option) is not { } text) return option.Default;
        if (double.TryParse(text, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var value) && value >= range.Least && value <= range.Most) return value;
        problems.Add(new(option.Option.Name, "", $"'{text}'", FormattableString.Invariant($"Right would be a number from {range.Least} to {range.Most}.")));
        return option.Default;
    }
}
