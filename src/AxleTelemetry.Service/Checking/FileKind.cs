using System.Collections.Immutable;
using System.Text;
using AxleTelemetry.Messages.Calibration;
using AxleTelemetry.Messages.Contacts;
using AxleTelemetry.Messages.FittedTyres;
using AxleTelemetry.Messages.Limits;
using AxleTelemetry.Messages.Permits;
using AxleTelemetry.Messages.Running;
using AxleTelemetry.Messages.VehicleFiles;
using AxleTelemetry.Service.Configuring;
using AxleTelemetry.Service.Inputs;

namespace AxleTelemetry.Service.Checking;

/// <summary>A sort of file that people write or record, how to know it, and how to check it.</summary>
internal sealed record FileKind(string Name, string KnownBy, Func<FileText, bool> Recognises, Func<FileText, CheckedFile> Check)
{
    /// <summary>True for what is read line by line, however large.</summary>
    public bool IsStream { get; init; }

    /// <summary>The kind that describes vehicles.</summary>
    public static ImmutableArray<FileKind> Vehicles { get; } =
        [new("vehicle", "JSON with \"axles\"", text => text.Names.Contains("axles") || text.Names.Contains("kerb"), Vehicle)];

    /// <summary>All other kinds; the first that recognises a file checks it, against the vehicles known.</summary>
    public static ImmutableArray<FileKind> Others(KnownVehicles vehicles) =>
    [
        new("settings", "JSON with \"fleets\"", text => text.Names.Contains("fleets") || text.Names.Contains("data_directory"), SettingsCheck.Run),
        new("limits", "JSON with \"rules\"", text => text.Names.Contains("rules"), Limits),
        new("tickets", "CSV whose header has the columns weighing and kpa",
            text => text.FirstLine.Contains("weighing", StringComparison.Ordinal) && text.FirstLine.Contains("kpa", StringComparison.Ordinal),
            text => Tickets(text, vehicles)),
        new("permits", "JSON with \"permits\"", text => text.Names.Contains("permits"), text => Permits(text, vehicles)),
        new("contacts", "JSON with \"contacts\"", text => text.Names.Contains("contacts"), Contacts),
        new("assumptions", "JSON with \"values\"", text => text.Names.Contains("values"), Assumptions),
        new("tyre events", "CSV whose header has the columns tyre and event",
            text => text.FirstLine.Contains("tyre", StringComparison.Ordinal) && text.FirstLine.Contains("event", StringComparison.Ordinal),
            text => Tyres(text, vehicles)),
        new("recording", "NDJSON, one message a line, each with \"topic\"",
            text => text.Names.Contains("topic") || text.Name.EndsWith(".ndjson", StringComparison.OrdinalIgnoreCase),
            text => RecordingCheck.Run(text.Name, vehicles)) { IsStream = true },
    ];

    private static CheckedFile Vehicle(FileText text)
    {
        var result = VehicleFile.Parse(text.Bytes);
        var vehicle = (result as VehicleFileResult.Accepted)?.Vehicle;
        return Checked(vehicle?.Id ?? "", result.Problems.Select(p => new FileProblem
        {
            IsWarning = p.IsWarning, Kind = p.Kind.ToString(), Path = p.Path, Line = p.Place.Line, Column = p.Place.Column, Found = p.Found, Right = p.Right,
        })) with { Vehicle = vehicle };
    }

    private static CheckedFile Limits(FileText text) => LimitSetParser.Parse(text.Bytes) switch
    {
        LimitSetResult.Parsed parsed => Checked(parsed.Set.Id, []),
        LimitSetResult.Refused refused => Checked("", refused.Errors.Select(e => new FileProblem { Path = e.Path, Found = e.Found, Right = $"Right is {e.Expected}." })),
        var other => throw new InvalidOperationException($"No case for {other.GetType().Name}."),
    };

    private static CheckedFile Tickets(FileText text, KnownVehicles vehicles) => TicketsCsv.Parse(Encoding.UTF8.GetString(text.Bytes)) switch
    {
        TicketsRead read => Checked(
            string.Join(", ", read.Tickets.GroupBy(t => t.Circuit).Select(g => FormattableString.Invariant($"{g.Key} ({g.Count()})"))),
            read.Tickets.Select(t => t.Circuit).Distinct()
                .Select(circuit => vehicles.Describe(circuit.Vehicle) is { } vehicle ? TicketFits.NoSuchSensor(vehicle, circuit, text.Name) : null)
                .OfType<InputProblem>().Select(p => new FileProblem { Kind = "UnknownSensor", Path = p.Path, Found = p.Found, Right = p.Right })),
        TicketsRefused refused => Checked("", refused.Problems.Select(p => new FileProblem { Path = p.Field, Line = p.Line, Found = p.Value, Right = p.Right })),
        var other => throw new InvalidOperationException($"No case for {other.GetType().Name}."),
    };

    private static CheckedFile Permits(FileText text, KnownVehicles vehicles)
    {
        var errors = new List<InputProblem>();
        switch (PermitsFile.Parse(text.Bytes))
        {
            case PermitsResult.Accepted accepted:
                // Alone it says nothing of vehicles; with the vehicles' files beside it those it names must be there.
                if (vehicles.Any) PermitSheets.Check([.. accepted.Permits.Select(p => (text.Name, p))], vehicles.All, errors);
                return Checked(FormattableString.Invariant($"{accepted.Permits.Length}"), errors.Select(e => new FileProblem { Kind = "UnknownVehicle", Path = e.Path, Found = e.Found, Right = e.Right }));
            case PermitsResult.Refused refused:
                return Checked("", refused.Problems.Select(p => new FileProblem { Kind = p.Kind.ToString(), Path = p.Path, Line = p.Place.Line, Column = p.Place.Column, Found = p.Found, Right = p.Right }));
            case var other:
                throw new InvalidOperationException($"No case for {other.GetType().Name}.");
        }
    }

    private static CheckedFile Contacts(FileText text) => ContactsFile.Parse(text.Bytes) switch
    {
        ContactsResult.Accepted accepted => Checked(FormattableString.Invariant($"{accepted.Contacts.Length}"), []),
        ContactsResult.Refused refused => Checked("", refused.Problems.Select(p => new FileProblem { Kind = p.Kind.ToString(), Path = p.Path, Line = p.Place.Line, Column = p.Place.Column, Found = p.Found, Right = p.Right })),
        var other => throw new InvalidOperationException($"No case for {other.GetType().Name}."),
    };

    private static CheckedFile Assumptions(FileText text) => AssumptionsFile.Parse(text.Bytes) switch
    {
        AssumptionsResult.Accepted accepted => Checked(accepted.Assumptions.Currency, []),
        AssumptionsResult.Refused refused => Checked("", refused.Problems.Select(p => new FileProblem
        {
            Kind = p.Kind.ToString(), Path = p.Path, Line = p.Place.Line, Column = p.Place.Column, Found = p.Found, Right = p.Right,
        })),
        var other => throw new InvalidOperationException($"No case for {other.GetType().Name}."),
    };

    private static CheckedFile Tyres(FileText text, KnownVehicles vehicles) => TyresCsv.Parse(Encoding.UTF8.GetString(text.Bytes), vehicles.Describe) switch
    {
        TyresOutcome.Read read => Checked(FormattableString.Invariant($"of {read.Ledger.Tyres.Count()}"), []),
        TyresOutcome.Refused refused => Checked("", refused.Problems.Select(p => new FileProblem { Path = p.Field, Line = p.Line, Found = p.Value, Right = p.Right })),
        var other => throw new InvalidOperationException($"No case for {other.GetType().Name}."),
    };

    private static CheckedFile Checked(string subject, IEnumerable<FileProblem> problems) => new("", "", subject, [.. problems]);
}
