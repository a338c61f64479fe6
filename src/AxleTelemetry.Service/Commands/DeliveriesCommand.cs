using System.CommandLine;
using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Messages.Settings;
using AxleTelemetry.Service.Delivering;
using AxleTelemetry.Service.Serving;
using AxleTelemetry.Storage.Delivering;

namespace AxleTelemetry.Service.Commands;

/// <summary><c>deliveries</c>: messages about alerts and what came of them.</summary>
internal sealed class DeliveriesCommand
{
    private const int Usual = 50, Most = 10_000;

    private const string Description = """
        List messages about alerts that did not reach their recipient, and have them sent again.

        What a recipient refuses, or does not take for the time that the settings state, is given up and kept: up to 10 000 of them, beyond
        that the oldest is dropped and counted. Sent again it has the id it had before, so that whoever keeps ids takes it once.
        May be asked of a running service; what is sent again goes out within seconds there, otherwise after its next start.

        Examples:
          axletelemetry deliveries --settings axletelemetry.json
          axletelemetry deliveries --state waiting --recipient office
          axletelemetry deliveries --send-again 17 --send-again 18
          axletelemetry deliveries --send-again-all --recipient office

        Exit code: 0 done; 1 messages were given up, or one of those named was not or has nobody to go to; 2 bad input, or a file that cannot be used.
        """;

    private readonly Option<string> _state = new("--state") { Description = "Which: dead (given up), waiting, delivered, gathered (told as parts of a digest).", HelpName = "STATE", DefaultValueFactory = _ => "dead" };
    private readonly Option<string?> _recipient = new("--recipient") { Description = "Only those to this recipient.", HelpName = "NAME" };
    private readonly Option<int> _most = new("--limit") { Description = "Most messages listed.", HelpName = "N", DefaultValueFactory = _ => Usual };
    private readonly Option<long[]> _again = new("--send-again") { Description = "Send the given-up message of this number again. May be repeated.", HelpName = "NUMBER" };
    private readonly Option<bool> _all = new("--send-again-all") { Description = "Send all that were given up again; with --recipient those to it." };
    private readonly SettingsOption _settings = new();

    private DeliveriesCommand()
    {
    }

    public static Command Create()
    {
        var deliveries = new DeliveriesCommand();
        var command = new Command("deliveries", Description) { deliveries._state, deliveries._recipient, deliveries._most, deliveries._again, deliveries._all };
        deliveries._state.AcceptOnlyFromAmong([.. DeliveryDocument.States]);
        deliveries._settings.AddTo(command);
        command.SetAction(deliveries.Run);
        return command;
    }

    private int Run(ParseResult parsed)
    {
        if (_settings.Read(parsed) is not { } configuration) return ExitCode.BadInput;
        var (output, error) = (parsed.InvocationConfiguration.Output, parsed.InvocationConfiguration.Error);
        if (!File.Exists(Path.Combine(configuration.DataDirectory, DeliveryFile.FileName)))
        {
            error.WriteLine(configuration.Settings.Delivery is null ? "Nobody is told of alerts: 'delivery' in the settings says who." : "Nothing was delivered yet: the service has not run with these settings.");
            return ExitCode.BadInput;
        }

        try
        {
            using var file = DeliveryFile.Open(configuration.DataDirectory);
            return parsed.GetValue(_all) || parsed.GetValue(_again) is { Length: > 0 } ? SendAgain(file, parsed, (output, IsThere(configuration.Settings.Delivery))) : List(file, parsed, output);
        }
        catch (IOException unusable)
        {
            error.WriteLine(unusable.Message);
            return ExitCode.BadInput;
        }
    }

    private static Func<string, bool> IsThere(DeliverySettings? settings) => name => settings is not null && (settings.Find(name) is not null || (settings.AlertsByMqtt && ChangeEntry.IsBroker(name)));

    private int SendAgain(DeliveryFile file, ParseResult parsed, (TextWriter Output, Func<string, bool> IsThere) to)
    {
        var output = to.Output;
        var now = TimeProvider.System.Now();
        var numbers = parsed.GetValue(_all) ? [.. In(file, ParcelState.Dead, parsed.GetValue(_recipient), Most).Select(p => p.Number)] : parsed.GetValue(_again) ?? [];
        var code = ExitCode.Done;
        foreach (var number in numbers.Order())
        {
            var outcome = file.InOneStep(book => SendingAgain.Try(book, number, to.IsThere, now));
            output.WriteLine(outcome switch
            {
                SendingAgain.Waits => FormattableString.Invariant($"{number} is sent again."),
                SendingAgain.NotGivenUp => FormattableString.Invariant($"{number} is no message that was given up."),
                SendingAgain.NobodyThere nobody => FormattableString.Invariant($"{number} is not sent again. {nobody.Text}"),
                _ => throw new InvalidOperationException("An outcome of sending again that nobody handles."),
            });
            if (outcome is not SendingAgain.Waits) code = ExitCode.Suspicious;
        }

        if (numbers.Length == 0) output.WriteLine("No message was given up.");
        return code;
    }

    private int List(DeliveryFile file, ParseResult parsed, TextWriter output)
    {
        var state = Enum.GetValues<ParcelState>().First(s => JsonText.Word(s) == parsed.GetValue(_state));
        var parcels = In(file, state, parsed.GetValue(_recipient), Math.Clamp(parsed.GetValue(_most), 1, Most));
        if (parcels.IsEmpty) output.WriteLine(state == ParcelState.Dead ? "No message was given up." : "There are none.");
        else Print(parcels, output);
        return state == ParcelState.Dead && !parcels.IsEmpty ? ExitCode.Suspicious : ExitCode.Done;
    }

    private static void Print(ImmutableArray<Parcel> parcels, TextWriter output)
    {
        foreach (var parcel in parcels)
        {
            output.WriteLine(FormattableString.Invariant($"{parcel.Number} to {parcel.Recipient}, {JsonText.Word(parcel.Kind)}, {Time(parcel.Queued)}, tried {parcel.Attempts} times in vain{(parcel.Alert.Length > 0 ? $", {parcel.Alert}" : "")}"));
            if (parcel.Trouble is { } trouble) output.WriteLine($"    {trouble}");
        }
    }

    private static ImmutableArray<Parcel> In(DeliveryFile file, ParcelState state, string? recipient, int limit) => file.InOneStep(book => book.In(state, recipient, long.MaxValue, limit));

    private static string Time(Moment at) => at.ToString();
}
