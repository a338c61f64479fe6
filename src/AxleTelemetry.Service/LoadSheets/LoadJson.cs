using System.Text.Encodings.Web;
using System.Text.Json;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Domain.Wording;

namespace AxleTelemetry.Service.LoadSheets;

/// <summary>A sheet for a program. Units are in the names, which stay as they are.</summary>
internal static class LoadJson
{
    private static readonly JsonSerializerOptions Options = new()
    {
        PropertyNamingPolicy = JsonNamingPolicy.SnakeCaseLower,
        WriteIndented = true,
        NewLine = "\n",
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    };

    public static string Of(LoadSheet sheet)
    {
        var (words, combination) = (new LoadWords(sheet), sheet.Input.Combination);
        return JsonSerializer.Serialize(
            new
            {
                Vehicles = combination.Vehicles.Select(v => v.Id),
                Limits = new { sheet.Input.Limits.Id, sheet.Input.Limits.Title, AsOf = sheet.Input.Limits.AsOf },
                Trip = Word(sheet.Input.Trip.Trip),
                sheet.Input.Trip.Intermodal,
                Source = sheet.IsStated ? "stated" : "pressures",
                Over = sheet.IsOver,
                Payloads = sheet.Payloads.Select(p => Payload(sheet, p)),
                Calibrations = combination.Sensors.Select(s => Calibration(sheet, s)),
                Configurations = sheet.Configurations.Select(c => Configuration(sheet, c)),
                Findings = words.Findings(),
                Remedies = sheet.Remedies.Select(r => Remedy(sheet, r)),
                LeastCertain = sheet.LeastCertain is { } least ? Least(least) : null,
                Knowledge = sheet.Knowledge,
                Remarks = sheet.Remarks,
                Cautions = LoadWords.Cautions,
            },
            Options);
    }

    private static object Payload(LoadSheet sheet, PayloadLine line) => new
    {
        Vehicle = line.Body.Vehicle.Id,
        MassKg = Kilograms(line.Mass.Mean),
        MassHalfWidth95Kg = Kilograms(line.Mass.HalfWidth),
        CentreM = line.CentreMetres is { } metres ? Math.Round(metres, 3) : (double?)null,
        Known = sheet.IsStated ? "stated" : Word(line.Known),
    };

    private static object Calibration(LoadSheet sheet, SensorPart sensor) => new
    {
        Vehicle = sheet.Input.Combination.Vehicles[sensor.Body].Id,
        Sensor = sensor.Sensor.Key,
        sheet.Input.Fits[sensor.Index].Version,
        sheet.Input.Fits[sensor.Index].Tickets,
        Kpa = (sheet.Order.Load as LoadSource.Read)?.Pressures.Where(p => p.Sensor == sensor.Index).Select(p => (double?)p.Pressure.Kilopascals).FirstOrDefault(),
    };

    private static object Configuration(LoadSheet sheet, ConfigurationSheet configuration) => new
    {
        Present = configuration == sheet.Present,
        Raised = Axles(sheet, AxleState.Raised, configuration.Configuration),
        Unloaded = Axles(sheet, AxleState.Unloaded, configuration.Configuration),
        Possible = configuration.IsPossible,
        Loads = configuration.Rows.Select(r => Row(sheet, r)),
        configuration.Unlimited,
    };

    private static object Row(LoadSheet sheet, LoadRow row) => new
    {
        Thing = row.Name,
        Axle = row.Axle < 0 ? null : Key(sheet, row.Axle),
        State = row.Axle < 0 ? null : Word(row.State),
        LoadKg = Kilograms(row.Load.Mean),
        LoadHalfWidth95Kg = Kilograms(row.Load.HalfWidth),
        Known = sheet.IsStated ? "stated" : Word(row.Known),
        Limits = row.Judged.Select(Limit),
    };

    private static object Limit(JudgedLimit judged)
    {
        var (verdict, margin) = (judged.Verdict, judged.Verdict.Margin);
        return new
        {
            Kind = Word(margin.Key.Kind),
            LimitKg = margin.Constant == 0 ? (double?)null : Kilograms(margin.Limit),
            LeastShare = margin.Constant == 0 ? margin.Limit : (double?)null,
            ExcessKg = Kilograms(verdict.Excess.Mean),
            ExcessHalfWidth95Kg = Kilograms(verdict.Excess.HalfWidth),
            Level = Word(judged.Level),
            judged.CannotTell,
            Standing = Word(margin.Standing),
            margin.Source.Title,
            margin.Source.Clause,
            Edition = margin.Source.AsOf == DateOnly.MinValue ? (DateOnly?)null : margin.Source.AsOf,
            Status = Word(margin.Source.Status),
            margin.Note,
        };
    }

    private static object Remedy(LoadSheet sheet, Remedy remedy)
    {
        var sentence = new Sentences(sheet.Input.Combination).Of(remedy, sheet.Order.Present);
        return remedy switch
        {
            Domain.Findings.Remedy.SetAxles axles => new { Kind = "set_axles", Sentence = sentence, Lower = axles.Lower.Select(a => Key(sheet, a)), Raise = axles.Raise.Select(a => Key(sheet, a)) },
            Domain.Findings.Remedy.TakeOff off => new
            {
                Kind = "take_off", Sentence = sentence, Vehicle = sheet.Input.Combination.Vehicles[off.Body].Id, Place = Word(off.From), AtM = Math.Round(off.Metres, 3),
                MassKg = Kilograms(off.Kilograms), MassToBeSureKg = off.SureKilograms is { } sure ? Kilograms(sure) : (double?)null,
            },
            Domain.Findings.Remedy.Shift shift => new
            {
                Kind = "shift", Sentence = sentence, Vehicle = sheet.Input.Combination.Vehicles[shift.Body].Id,
                MassKg = Kilograms(shift.Kilograms), RearwardM = Math.Round(shift.Metres, 3), CentreRearwardM = Math.Round(shift.CentreMetres, 3),
            },
            _ => throw new InvalidOperationException("A remedy that nobody handles."),
        };
    }

    private static object Least(LeastCertain least) => new
    {
        Thing = least.Row.Name,
        HalfWidth95Kg = Kilograms(least.Row.Load.HalfWidth),
        Sources = least.Sources.Select(s => new { s.Words, PartOfVariance = Math.Round(s.Part, 3) }),
    };

    private static IEnumerable<string> Axles(LoadSheet sheet, AxleState state, Configuration configuration) =>
        sheet.Input.Combination.Axles.Where(a => configuration[a.Index] == state).Select(a => Key(sheet, a.Index));

    private static string Key(LoadSheet sheet, int axle)
    {
        var part = sheet.Input.Combination.Axles[axle];
        return $"{sheet.Input.Combination.Vehicles[part.Body].Id}/{part.Axle.Key}";
    }

    private static double Kilograms(double value) => Math.Round(value, 1) is var rounded && rounded == 0 ? 0 : rounded;

    private static string Word<T>(T value) where T : struct, Enum => JsonNamingPolicy.SnakeCaseLower.ConvertName(value.ToString());
}
