using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Domain.Wording;
using AxleTelemetry.Service.Inputs;
using static System.FormattableString;

namespace AxleTelemetry.Service.LoadSheets;

/// <summary>Everything on a sheet that is said in sentences; tables are beside it.</summary>
internal sealed class LoadWords(LoadSheet sheet)
{
    private const int MostRemedies = 5;
    private const int MostSingly = 2;

    private readonly Sentences _sentences = new(sheet.Input.Combination);

    /// <summary>Vehicles, payload, lifts, limits, calibrations.</summary>
    public IEnumerable<string> Head()
    {
        foreach (var vehicle in sheet.Input.Combination.Vehicles) yield return vehicle.Name.Length == 0 ? vehicle.Id : $"{vehicle.Id}  {vehicle.Name}";
        foreach (var payload in sheet.Payloads) yield return Payload(payload);
        yield return sheet.Input.LimitsLine;
        if (!sheet.IsStated) yield return $"Calibration: {string.Join("; ", sheet.Input.Combination.Sensors.Select(s => Calibration(s.Index)))}.";
    }

    /// <summary>Title of a configuration's table.</summary>
    public string Title(ConfigurationSheet configuration)
    {
        var lifts = _sentences.Lifts(configuration.Configuration) + Modes(configuration.Configuration);
        if (configuration == sheet.Present) return $"As it is: {lifts}";
        return configuration.IsPossible ? $"If {lifts}" : $"If {lifts}: not possible with this load";
    }

    /// <summary>What is passed as it is, one sentence for each thing, and of what it cannot be told.</summary>
    public ImmutableArray<string> Findings()
    {
        ImmutableArray<LoadRow> judged = [.. sheet.Present.Rows.Where(r => !r.Judged.IsEmpty)];
        ImmutableArray<LoadRow> unclear = [.. judged.Where(r => r.Judged[0].CannotTell)];
        ImmutableArray<string> over = [.. judged.Except(unclear).Select(r => r.Judged[0]).Where(j => j.Level > Level.Clear).Select(j => _sentences.Over(j.Verdict, j.Level))];
        ImmutableArray<string> untold = unclear.Length <= MostSingly
            ? [.. unclear.Select(r => _sentences.CannotTell(r.Judged[0].Verdict))]
            : [$"Cannot tell whether these are within their limits: {Names.List([.. unclear.Select(r => r.Name)])}. Weigh, or fit a sensor."];
        return over.IsEmpty && untold.IsEmpty ? ["Nothing is over as it is."] : [.. over, .. untold];
    }

    /// <summary>What ends what is over, the best first; empty where nothing is over.</summary>
    public ImmutableArray<string> Remedies()
    {
        if (!sheet.Remedies.IsEmpty) return [.. sheet.Remedies.Take(MostRemedies).Select(r => _sentences.Of(r, sheet.Order.Present))];
        return sheet.Present.Rows.SelectMany(r => r.Judged).Any(j => j.Verdict.Binds && j.Verdict.Excess.Mean > 0)
            ? ["No lift position, removal or shift of payload would end it."] : [];
    }

    /// <summary>How far it may be trusted.</summary>
    public IEnumerable<string> Trust()
    {
        if (sheet.LeastCertain is { } least)
        {
            var sources = string.Join("; ", least.Sources.Select(s => $"{s.Words}, {Amount.WholePercent(s.Part)}"));
            yield return $"Least certain: {least.Row.Name}, {Amount.Tonnes(least.Row.Load.Mean)} give or take {Amount.Tonnes(least.Row.Load.HalfWidth)}. It comes from: {sources}.";
        }

        if (sheet.IsStated) yield return "The payload is taken as stated: the intervals are those of the vehicle alone.";
        foreach (var sentence in sheet.Knowledge.Concat(sheet.Remarks)) yield return sentence;
    }

    /// <summary>What a reader of the limits must know, of those that press.</summary>
    public IEnumerable<string> Notes()
    {
        var notes = sheet.Present.Rows.Where(r => !r.Judged.IsEmpty && (r.Judged[0].CannotTell || r.Judged[0].Level > Level.Clear))
            .Select(r => (r.Name, r.Judged[0].Verdict.Margin.Note)).Where(n => n.Note.Length > 0);
        foreach (var note in notes.GroupBy(n => n.Note)) yield return $"{Names.Begin(Names.List([.. note.Select(n => n.Name)]))}: {note.Key}";
        foreach (var line in sheet.Present.Unlimited) yield return line;
    }

    /// <summary>The cautions, once.</summary>
    public static ImmutableArray<string> Cautions { get; } = [Sentences.Caution, Sentences.LimitCaution];

    private string Payload(PayloadLine line)
    {
        var of = sheet.Payloads.Length > 1 ? $"Payload of {line.Body.Vehicle.Id}" : "Payload";
        var from = line.Body.Vehicle.Kind.RestsOnCoupling() ? "behind the coupling" : "behind the first axle";
        var centre = line.CentreMetres is { } metres ? Invariant($", centre {metres:0.0} m {from}") : "";
        var mass = Amount.Tonnes(Math.Max(0, line.Mass.Mean));
        if (sheet.IsStated) return $"{of}: {mass}{centre}, as stated.";
        var how = line.Known == Knowledge.ByPlace ? "known only through where it usually sits" : "inferred from the pressures";
        return $"{of}: {mass} ({Amount.Number(Math.Max(0, line.Mass.Low))} to {Amount.Number(Math.Max(0, line.Mass.High))} t){centre}, {how}.";
    }

    private string Calibration(int sensor)
    {
        var fit = sheet.Input.Fits[sensor];
        return fit.Tickets == 0 ? $"{_sentences.Names.Sensor(sensor)}, handbook only" : Invariant($"{_sentences.Names.Sensor(sensor)}, version {fit.Version} of {fit.Tickets} {(fit.Tickets == 1 ? "ticket" : "tickets")}");
    }

    private string Modes(Configuration configuration)
    {
        var special = sheet.Input.Combination.Bodies.Where(b => configuration.Mode(b.Index) > 0).Select(b => $"{b.Vehicle.Id} in mode {b.Vehicle.Modes[configuration.Mode(b.Index)].Name}");
        return string.Concat(special.Select(s => $", {s}"));
    }
}
