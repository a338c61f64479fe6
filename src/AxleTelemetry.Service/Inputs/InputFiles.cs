using AxleTelemetry.Domain.Running;
using AxleTelemetry.Messages.Running;
using System.Collections.Immutable;
using AxleTelemetry.Domain.Calibration;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Messages.Calibration;
using AxleTelemetry.Messages.Contacts;
using AxleTelemetry.Messages.Limits;
using AxleTelemetry.Messages.Permits;
using AxleTelemetry.Messages.VehicleFiles;

namespace AxleTelemetry.Service.Inputs;

/// <summary>Reads files that people write. What is wrong with them goes to the lists, in the words used for every file.</summary>
internal sealed class InputFiles(List<InputProblem> errors, List<InputProblem> warnings)
{
    /// <summary>A vehicle file; <c>null</c> where it is in error.</summary>
    public VehicleDescription? Vehicle(string file) => Bytes(file) is { } bytes ? Vehicle(file, bytes) : null;

    /// <summary>The text of a vehicle file; <c>null</c> where it is in error.</summary>
    public VehicleDescription? Vehicle(string file, ReadOnlyMemory<byte> text)
    {
        var result = VehicleFile.Parse(text.Span);
        foreach (var problem in result.Problems)
            (problem.IsWarning ? warnings : errors).Add(new(At(file, problem.Place), problem.Path, problem.Found, problem.Right));
        return (result as VehicleFileResult.Accepted)?.Vehicle;
    }

    /// <summary>A file of limits, or for <c>null</c> the shipped table; <c>null</c> where it is in error.</summary>
    public LimitSet? Limits(string? file)
    {
        if (file is null) return Limits(LimitSetFile.Directive, LimitSetFile.ShippedText(LimitSetFile.Directive));
        return Bytes(file) is { } bytes ? Limits(file, bytes) : null;
    }

    /// <summary>The text of a file of limits; <c>null</c> where it is in error.</summary>
    public LimitSet? Limits(string file, ReadOnlyMemory<byte> text)
    {
        switch (LimitSetParser.Parse(text))
        {
            case LimitSetResult.Parsed parsed:
                return parsed.Set;
            case LimitSetResult.Refused refused:
                errors.AddRange(refused.Errors.Select(e => new InputProblem(file, e.Path, e.Found, $"Right would be {e.Expected}.")));
                return null;
            default:
                throw new InvalidOperationException("An outcome of reading limits that nobody handles.");
        }
    }

    /// <summary>The text of a file of assumptions; <c>null</c> where it is in error.</summary>
    public Assumptions? Assumptions(string file, ReadOnlyMemory<byte> text)
    {
        switch (AssumptionsFile.Parse(text.Span))
        {
            case AssumptionsResult.Accepted accepted:
                return accepted.Assumptions;
            case AssumptionsResult.Refused refused:
                Tell(file, refused.Problems);
                return null;
            default:
                throw new InvalidOperationException("An outcome of reading assumptions that nobody handles.");
        }
    }

    /// <summary>The text of a file of permits; empty where it is in error.</summary>
    public ImmutableArray<Permit> Permits(string file, ReadOnlyMemory<byte> text)
    {
        switch (PermitsFile.Parse(text.Span))
        {
            case PermitsResult.Accepted accepted:
                return accepted.Permits;
            case PermitsResult.Refused refused:
                Tell(file, refused.Problems);
                return [];
            default:
                throw new InvalidOperationException("An outcome of reading permits that nobody handles.");
        }
    }

    /// <summary>The text of a file of contacts; empty where it is in error.</summary>
    public ImmutableArray<Contact> Contacts(string file, ReadOnlyMemory<byte> text)
    {
        switch (ContactsFile.Parse(text.Span))
        {
            case ContactsResult.Accepted accepted:
                return accepted.Contacts;
            case ContactsResult.Refused refused:
                Tell(file, refused.Problems);
                return [];
            default:
                throw new InvalidOperationException("An outcome of reading contacts that nobody handles.");
        }
    }

    /// <summary>A file of tickets; empty where it is in error.</summary>
    public ImmutableArray<CircuitTicket> Tickets(string file) => Bytes(file) is { } bytes ? Tickets(file, bytes) : [];

    /// <summary>The text of a file of tickets; empty where it is in error.</summary>
    public ImmutableArray<CircuitTicket> Tickets(string file, ReadOnlyMemory<byte> text)
    {
        switch (TicketsCsv.Parse(System.Text.Encoding.UTF8.GetString(text.Span)))
        {
            case TicketsRead read:
                return read.Tickets;
            case TicketsRefused refused:
                errors.AddRange(refused.Problems.Select(p =>
                    new InputProblem(FormattableString.Invariant($"{file}:{p.Line}"), p.Field, p.Value.Length == 0 ? "nothing" : $"'{p.Value}'", p.Right)));
                return [];
            default:
                throw new InvalidOperationException("An outcome of reading tickets that nobody handles.");
        }
    }

    /// <summary>The bytes of a file; <c>null</c> where it cannot be read.</summary>
    public byte[]? Bytes(string file)
    {
        try
        {
            return File.ReadAllBytes(file);
        }
        catch (Exception unreadable) when (unreadable is IOException or UnauthorizedAccessException)
        {
            errors.Add(new(file, "", "", Unreadable.Words(file, unreadable)));
            return null;
        }
    }

    private void Tell(string file, ImmutableArray<Problem> problems) =>
        errors.AddRange(problems.Select(p => new InputProblem(At(file, p.Place), p.Path, p.Found, p.Right)));

    private static string At(string file, TextPlace place) =>
        place == default ? file : FormattableString.Invariant($"{file}:{place.Line}:{place.Column}");
}
