using System.Collections.Immutable;
using System.CommandLine;
using AxleTelemetry.Domain.Planning;
using AxleTelemetry.Service.Inputs;

namespace AxleTelemetry.Service.Planning;

/// <summary>The options of <c>plan</c> beside the shared ones. Numbers are read here, so that every slip is told at once and in words.</summary>
internal sealed class PlanOptions
{
    private static readonly ImmutableArray<string> Formats = ["text", "json", "svg", "png"];

    private readonly Option<string?> _of = new("--of") { Description = "Vehicle whose payload the diagram varies; needed where several carry.", HelpName = "VEHICLE" };

    private readonly Option<string[]> _payload = new("--payload")
    {
        Description = "Payload, kg; without a vehicle it is that of the one that varies. Default: all that is dropped, else none. May be repeated.",
        HelpName = "[VEHICLE=]KG",
    };

    private readonly Option<string[]> _centre = new("--centre")
    {
        Description = "Where the payload's centre is, metres from the first axle (semi-trailer: from the kingpin). Default: where the vehicle file expects it.",
        HelpName = "[VEHICLE=]METRES",
    };

    private readonly Option<string[]> _drop = new("--drop") { Description = "What is taken off at a stop and where its centre stands; in the order of the stops. May be repeated.", HelpName = "KG@METRES" };

    private readonly Option<string?> _overhang = new("--front-overhang") { Description = "From the first axle forward to the front corners, metres. Default: as the vehicle file says, else 1.40, common practice.", HelpName = "METRES" };

    private readonly Option<string?> _width = new("--width") { Description = "Width of the vehicles, metres. Default: as the vehicle files say, else 2.55, the greatest of Directive 96/53/EC.", HelpName = "METRES" };

    private readonly Option<string?> _format = new("--format") { Description = "What is made of it. Default: what the name of --out ends with, else text.", HelpName = "text|json|svg|png" };

    private readonly Option<string?> _out = new("--out") { Description = "Write to this file instead of the terminal; needed for png.", HelpName = "FILE" };

    private readonly Option<string?> _font = new("--font") { Description = "Typeface for png, a TrueType or OpenType file. Default: one of the system's.", HelpName = "FILE" };

    /// <summary>Adds them all to a command.</summary>
    public void AddTo(Command command)
    {
        foreach (var option in (Option[])[_of, _payload, _centre, _drop, _overhang, _width, _format, _out, _font]) command.Options.Add(option);
    }

    /// <summary>What is asked for; what cannot be read goes to the list.</summary>
    public PlanAsk Ask(ParseResult parsed, List<InputProblem> errors) => new()
    {
        Of = parsed.GetValue(_of),
        Payloads = PerVehicle(parsed, _payload, (0, PlanNumbers.MostPayload), errors),
        Centres = PerVehicle(parsed, _centre, (-PlanNumbers.Farthest, PlanNumbers.Farthest), errors),
        Drops = [.. (parsed.GetValue(_drop) ?? []).Select(d => PlanNumbers.Drop(_drop.Name, d, errors)).OfType<Drop>()],
        FrontOverhang = One(parsed, _overhang, (0, PlanNumbers.MostOverhang), errors),
        Width = One(parsed, _width, (PlanNumbers.LeastWidth, PlanNumbers.MostWidth), errors),
    };

    /// <summary>What is made of it, and where; what cannot be goes to the list.</summary>
    public PlanOutput Output(ParseResult parsed, List<InputProblem> errors)
    {
        var (file, stated) = (parsed.GetValue(_out), parsed.GetValue(_format));
        if (stated is not null && !Formats.Contains(stated)) errors.Add(new(_format.Name, "", $"'{stated}'", $"Right would be one of {string.Join(", ", Formats)}."));
        var ending = Path.GetExtension(file ?? "").TrimStart('.').ToLowerInvariant();
        var format = stated ?? (Formats.Contains(ending) ? ending : "text");
        if (format == "png" && file is null) errors.Add(new(_out.Name, "", "", "A png is no text for a terminal: state --out FILE."));
        return new(format, file, parsed.GetValue(_font));
    }

    private static ImmutableArray<(string? Vehicle, double Value)> PerVehicle(ParseResult parsed, Option<string[]> option, (double Least, double Most) range, List<InputProblem> errors)
    {
        var values = ImmutableArray.CreateBuilder<(string?, double)>();
        foreach (var text in parsed.GetValue(option) ?? [])
        {
            var at = text.IndexOf('=', StringComparison.Ordinal);
            if (PlanNumbers.Read(option.Name, text[(at + 1)..], range, errors) is { } value) values.Add((at < 0 ? null : text[..at], value));
        }

        return values.ToImmutable();
    }

    private static double? One(ParseResult parsed, Option<string?> option, (double Least, double Most) range, List<InputProblem> errors) =>
        parsed.GetValue(option) is { } text ? PlanNumbers.Read(option.Name, text, range, errors) : null;
}

/// <summary>What is made of a plan.</summary>
/// <param name="Format"><c>text</c>, <c>json</c>, <c>svg</c>, <c>png</c>.</param>
/// <param name="File">Where to; <c>null</c>: the terminal.</param>
/// <param name="Font">Typeface for a png; <c>null</c>: one of the system's.</param>
internal sealed record PlanOutput(string Format, string? File, string? Font);
