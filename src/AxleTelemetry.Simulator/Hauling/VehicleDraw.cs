using System.Text.Json;
using System.Text.Json.Nodes;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Messages.VehicleFiles;
using AxleTelemetry.Simulator.Chance;
using AxleTelemetry.Simulator.Fleet;
using AxleTelemetry.Simulator.Statics;

namespace AxleTelemetry.Simulator.Hauling;

/// <summary>Draws one vehicle after an example: another identity, another kerb weighing, errors of its own.</summary>
internal sealed class VehicleDraw(FleetPlan plan, SeededRandom random)
{
    private const double KerbSpread = 0.02, DragSd = 0.2, LeastResidual = 20;

    private static readonly JsonSerializerOptions Indented = new() { WriteIndented = true };

    public FleetVehicle Draw(Haulier haulier, string example, string id)
    {
        var file = File(example, id);
        var description = VehicleFile.Parse(System.Text.Encoding.UTF8.GetBytes(file)) is VehicleFileResult.Accepted accepted
            ? accepted.Vehicle
            : throw new InvalidOperationException($"The example {example} does not make a vehicle.");
        return new FleetVehicle
        {
            Haulier = haulier,
            File = file,
            Description = description,
            Truth = plan.Errors ? Disturbed(description) : TrueVehicle.AsDescribed(description),
            Sensors = [.. description.Sensors.Select(s => plan.Errors
                ? TruthDraw.Sensor(s, plan.Ticketed, random)
                : new SensorTruth(s.Handbook.OffsetKilograms, s.Handbook.KilogramsPerKilopascal))],
            Habits = description.Kind.IsPowered() || description.Sensors.Length > 0 ? DeviceHabits.Draw(random) : null,
            Seed = random.Next(),
        };
    }

    private TrueVehicle Disturbed(VehicleDescription description)
    {
        var truth = TruthDraw.Vehicle(description, random);
        return truth with
        {
            DragFactor = Math.Max(0.3, 1 + random.Normal(DragSd)),
            Residuals = [.. truth.Residuals.Select(r => Math.Max(LeastResidual, r))],
        };
    }

    private string File(string example, string id)
    {
        using var stream = typeof(VehicleDraw).Assembly.GetManifestResourceStream("vehicle:" + example)
            ?? throw new InvalidOperationException($"The example {example} is missing from the build.");
        var vehicle = JsonNode.Parse(stream, documentOptions: new JsonDocumentOptions { CommentHandling = JsonCommentHandling.Skip, AllowTrailingCommas = true })!.AsObject();
        vehicle["id"] = id;
        vehicle["plate"] = id.Replace('-', ' ');
        var kerb = vehicle["kerb"]!["axle_loads_kg"]!.AsObject();
        var heavier = random.Normal(KerbSpread);
        foreach (var axle in kerb.Select(a => a.Key).ToList()) kerb[axle] = 5 * Math.Round(kerb[axle]!.GetValue<double>() * (1 + heavier) / 5);
        if (random.Chance(plan.OneSidedPart) && vehicle["sensors"] is JsonArray { Count: > 0 } sensors) sensors[0]!["side"] = random.Pick("left", "right");
        return vehicle.ToJsonString(Indented) + "\n";
    }
}
