using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Messages.VehicleFiles;

/// <summary>Sensors: what each hangs on, and that its handbook value is one value.</summary>
internal static class SensorChecks
{
    private const double LeastFullPressure = 150;

    public static void Run(Draft draft)
    {
        var sensors = draft.Root.Parts("sensors");
        Unique.Check(draft.Problems, sensors.Select(s => (s.Text("key"), s.PathOf("key"))), "sensor");
        var sensed = new HashSet<(int Axle, CircuitSide Side)>();
        foreach (var sensor in sensors)
        {
            var axles = draft.Refer(sensor, "axles");
            Unique.Check(draft.Problems, sensor.Texts("axles").Select(t => ((string?)t.Text, t.Path)), "axle of a circuit");
            OneGroup(draft, sensor, axles);
            Circuit(draft, sensor, axles);
            Twice(draft, sensor, axles, sensed);
            Handbook(draft, sensor, axles);
        }
    }

    private static void OneGroup(Draft draft, Node sensor, IReadOnlyCollection<int> axles)
    {
        var groups = axles.Select(i => draft.Groups.FirstOrDefault(g => g.Axles.Contains(i))?.Place).OfType<string>().Distinct().Count();
        if (groups > 1)
            draft.Problems.Add(ProblemKind.SensorAcrossGroups, sensor.PathOf("axles"), "axles of both groups", "One air circuit feeds axles of one group. Describe two circuits as two sensors.");
        var regulated = axles.Count(i => draft.Axles[i].IsRegulated);
        if (regulated > 0 && regulated < axles.Count)
            draft.Problems.Add(ProblemKind.SensorMixesCircuits, sensor.PathOf("axles"), "a regulated axle beside one that shares",
                "A regulated axle has a circuit of its own, so it needs a sensor of its own.");
    }

    private static void Circuit(Draft draft, Node sensor, IReadOnlyList<int> axles)
    {
        if (axles.Count == 0) return;
        if (axles.Count > 1 && draft.Axles[axles[0]].HasLift && axles.Any(i => !draft.Axles[i].HasLift))
            draft.Problems.Add(ProblemKind.ReferenceLifts, JsonPath.Of(sensor.PathOf("axles"), 0), $"'{draft.Axles[axles[0]].Called}'",
                "The first axle named is the one a calibration refers to: better one that stays on the road.");
        var group = draft.Groups.FirstOrDefault(g => g.Axles.Contains(axles[0]));
        if (group?.Node.Word<ShareLaw>("shares_by") != ShareLaw.OneCircuit || draft.Axles[axles[0]].IsRegulated) return;
        var left = group.Sharing(draft).Except(axles).Select(i => draft.Axles[i].Called).ToList();
        if (left.Count > 0)
            draft.Problems.Add(ProblemKind.CircuitIncomplete, sensor.PathOf("axles"), $"without {string.Join(", ", left)}",
                "The group shares by one circuit, so the sensor usually names all of its axles.");
    }

    private static void Twice(Draft draft, Node sensor, IEnumerable<int> axles, HashSet<(int Axle, CircuitSide Side)> sensed)
    {
        var side = sensor.Word<CircuitSide>("side") ?? CircuitSide.Both;
        foreach (var axle in axles.Distinct())
            if (!sensed.Add((axle, side)))
                draft.Problems.Add(ProblemKind.SensedTwice, sensor.Path, $"another sensor for '{draft.Axles[axle].Called}', side {Words.Write(side)}",
                    "Two sensors for the same bellows are unusual. Check the axles and the side.");
    }

    private static void Handbook(Draft draft, Node sensor, IReadOnlyList<int> axles)
    {
        if (sensor.Part("handbook") is not { } handbook) return;
        var geometry = HandbookGain.Geometry.Count(handbook.Has);
        var written = handbook.Has("kg_per_kpa");
        if (written ? geometry > 0 : geometry < HandbookGain.Geometry.Length)
            draft.Problems.Add(ProblemKind.HandbookUnclear, handbook.Path, HandbookGain.Written(handbook),
                $"Give either {string.Join(", ", HandbookGain.Geometry)}, all three, or kg_per_kpa alone.");
        if (HandbookGain.Of(handbook) is not { } gain || axles.Count == 0) return;
        var axle = draft.Axles[axles[0]];
        if (axle.Rating - axle.Unsprung is not { } sprung) return;
        var full = sensor.Number("full_scale_kpa") ?? 1000;
        if (sprung / gain > full || sprung / gain < LeastFullPressure)
            draft.Problems.Add(ProblemKind.UnusualPressure, handbook.Path, $"{Problems.Say(Math.Round(sprung / gain))} kPa at the rating of '{axle.Called}'",
                $"At full load a circuit usually has {Problems.Say(LeastFullPressure)} to {Problems.Say(full)} kPa. Check area, number and lever.");
    }
}
