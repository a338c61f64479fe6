using System.Collections.Immutable;
using System.CommandLine;
using System.Globalization;
using System.Text;
using AxleTelemetry.Messages.Topics;
using AxleTelemetry.Service.Inputs;
using AxleTelemetry.Service.Watching;

namespace AxleTelemetry.Service.Commands;

/// <summary>The options of <c>watch</c>, and what they ask for.</summary>
internal sealed class WatchOptions
{
    private readonly Option<string?> _broker = new("--broker") { Description = "MQTT broker to listen to. Port 1883 unless stated, with --tls 8883.", HelpName = "HOST[:PORT]" };
    private readonly Option<string?> _recording = new("--recording") { Description = "Play a recording instead: one message a line.", HelpName = "FILE" };
    private readonly Option<string?> _speed = new("--speed") { Description = "How many times faster than it was recorded. Default: as fast as it goes.", HelpName = "TIMES" };
    private readonly Option<string[]> _vehicles = new("--vehicles") { Description = "Vehicle files, or directories of them. Needed.", HelpName = "PATH", AllowMultipleArgumentsPerToken = true };
    private readonly Option<string[]> _coupled = new("--coupled") { Description = "Trailers behind a vehicle that sends no coupling of its own; may be repeated.", HelpName = "TRACTOR=TRAILER[,TRAILER]" };
    private readonly Option<string?> _wait = new("--wait") { Description = "Seconds to wait for the slowest stream of a combination. Default 30: devices send in batches. What comes later is put in its place.", HelpName = "SECONDS" };
    private readonly Option<string?> _user = new("--username") { Description = "User name for the broker.", HelpName = "NAME" };
    private readonly Option<string?> _password = new("--password-file") { Description = "File that holds the password for the broker.", HelpName = "FILE" };
    private readonly Option<bool> _tls = new("--tls") { Description = "Speak TLS with the broker." };
    private readonly Option<bool> _json = new("--json") { Description = "Print one JSON object a line." };
    private readonly InputOptions _inputs = new(TimeProvider.System);

    public void AddTo(Command command)
    {
        foreach (Option option in (Option[])[_broker, _recording, _speed, _vehicles, _coupled, _wait, _user, _password, _tls, _json]) command.Options.Add(option);
        _inputs.AddLimitsTo(command);
    }

    /// <summary>The vehicles asked for, with tickets, limits and trip.</summary>
    public InputRequest Inputs(ParseResult parsed, List<InputProblem> problems)
    {
        ImmutableArray<string> vehicles = [.. parsed.GetValue(_vehicles) ?? []];
        if (vehicles.IsEmpty) problems.Add(new("--vehicles", "", "", "At least one vehicle file is needed, for example --vehicles deploy/examples."));
        return _inputs.Read(parsed, problems) with { VehicleFiles = vehicles };
    }

    /// <summary>What is to be watched, or <c>null</c> where that cannot be said; every problem is listed.</summary>
    public WatchOrder? Read(ParseResult parsed, List<InputProblem> problems)
    {
        var origin = Origin(parsed, problems);
        var wait = Number(parsed, _wait, 0, 3600, problems) ?? 30;
        var coupled = Coupled(parsed, problems);
        return origin is null ? null : new WatchOrder
        {
            Origin = origin,
            Tuning = new WatchTuning { Wait = TimeSpan.FromSeconds(wait), Coupled = coupled },
            Json = parsed.GetValue(_json),
        };
    }

    private MessageOrigin? Origin(ParseResult parsed, List<InputProblem> problems)
    {
        var speed = Number(parsed, _speed, 0.001, 1e6, problems);
        switch (parsed.GetValue(_broker), parsed.GetValue(_recording))
        {
            case ({ } broker, null):
                if (speed is not null) problems.Add(new("--speed", "", "", "Only a recording has a speed."));
                return Broker(broker, parsed, problems);
            case (null, { } recording):
                foreach (var option in (Option[])[_user, _password, _tls])
                    if (parsed.GetResult(option) is { Implicit: false }) problems.Add(new(option.Name, "", "", "Only a broker has it, and a recording is played."));
                return new MessageOrigin.Recording(recording, speed);
            default:
                problems.Add(new("--broker, --recording", "", "", "One of the two is needed, and not both."));
                return null;
        }
    }

    private MessageOrigin.Broker? Broker(string text, ParseResult parsed, List<InputProblem> problems)
    {
        var tls = parsed.GetValue(_tls);
        if (!Uri.TryCreate($"mqtt://{text}", UriKind.Absolute, out var uri) || uri.Host.Length == 0 || uri.UserInfo.Length > 0 || uri.PathAndQuery is not ("" or "/"))
        {
            problems.Add(new("--broker", "", $"'{text}'", "Right would be a host and a port, for example broker.example:1883."));
            return null;
        }

        var user = parsed.GetValue(_user);
        var password = Password(parsed.GetValue(_password), problems);
        if (password is not null && user is null) problems.Add(new("--username", "", "", "A password needs a user name."));
        return new MessageOrigin.Broker(uri.Host, uri.Port > 0 ? uri.Port : tls ? 8883 : 1883) { User = user, Password = password, Tls = tls };
    }

    private static ImmutableArray<byte>? Password(string? file, List<InputProblem> problems)
    {
        if (file is null) return null;
        try
        {
            return [.. Encoding.UTF8.GetBytes(File.ReadAllText(file).TrimEnd('\r', '\n'))];
        }
        catch (Exception unreadable) when (unreadable is IOException or UnauthorizedAccessException)
        {
            problems.Add(new(file, "", "", Unreadable.Words(file, unreadable)));
            return null;
        }
    }

    private ImmutableDictionary<string, ImmutableArray<string>> Coupled(ParseResult parsed, List<InputProblem> problems)
    {
        var coupled = ImmutableDictionary.CreateBuilder<string, ImmutableArray<string>>();
        foreach (var text in parsed.GetValue(_coupled) ?? [])
        {
            var parts = text.Split('=');
            ImmutableArray<string> trailers = parts.Length == 2 ? [.. parts[1].Split(',')] : [];
            if (trailers.IsEmpty || !Id.IsValid(parts[0]) || !trailers.All(t => Id.IsValid(t)))
                problems.Add(new("--coupled", "", $"'{text}'", "Right would be a powered vehicle and its trailers, for example T-01=ST-06."));
            else if (!coupled.TryAdd(parts[0], trailers))
                problems.Add(new("--coupled", "", $"'{parts[0]}' twice", "All trailers of a vehicle stand in one option."));
        }

        return coupled.ToImmutable();
    }

    private static double? Number(ParseResult parsed, Option<string?> option, double least, double most, List<InputProblem> problems)
    {
        if (parsed.GetValue(option) is not { } text) return null;
        if (double.TryParse(text, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var value) && value >= least && value <= most) return value;
        problems.Add(new(option.Name, "", $"'{text}'", FormattableString.Invariant($"Right would be a number from {least} to {most}.")));
        return null;
    }
}
