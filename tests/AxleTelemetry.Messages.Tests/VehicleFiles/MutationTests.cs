using System.Text;
using System.Text.Json.Nodes;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Messages.VehicleFiles;
using CsCheck;

namespace AxleTelemetry.Messages.Tests.VehicleFiles;

public sealed class MutationTests
{
    private static readonly string[] Values =
    [
        "null", "true", "0", "-1", "1", "2.5", "1e999", "-1e308", "1e-320", "12345678901234567890123", "\"\"", "\"drive\"", "\"tag\"", "\"trailer-1\"",
        "\"a b\"", "\"\\u0000\"", "\"\\ud83d\\ude9b\"", "[]", "{}", "[[[]]]", "[null]", "[\"drive\", \"drive\"]", "{ \"drive\": 1, \"\": {} }", "{ \"$\": [1] }",
    ];

    private static readonly string[] Names = [.. Examples.Names];
    private static readonly Gen<string> Name = Gen.Int[0, Names.Length - 1].Select(i => Names[i]);

    private static readonly Gen<JsonNode> Mutated =
        from name in Name
        from steps in Gen.Select(Gen.Int[0, 10_000], Gen.Int[0, 4], Gen.Int[0, Values.Length - 1]).Array[1, 4]
        select Mutate(JsonNode.Parse(Examples.Bytes(name))!, steps);

    [Fact]
    public void A_file_with_changed_values_never_throws_and_an_accepted_one_has_loads()
    {
        Mutated.Sample(vehicle =>
        {
            var result = VehicleFile.Parse(Encoding.UTF8.GetBytes(vehicle.ToJsonString()));
            if (result is VehicleFileResult.Accepted accepted) AssertLoads(accepted.Vehicle);
            else Assert.Contains(result.Problems, p => !p.IsWarning);
        }, iter: 3_000, threads: 1);
    }

    [Fact]
    public void A_file_with_changed_bytes_never_throws()
    {
        var gen = Gen.Select(Name, Gen.Select(Gen.Int[0, 100_000], Gen.Byte).Array[1, 5]);
        gen.Sample((name, changes) =>
        {
            var text = Examples.Bytes(name);
            foreach (var (at, value) in changes) text[at % text.Length] = value;
            VehicleFile.Parse(text);
            VehicleFile.Parse(text.AsSpan(0, changes[0].Item1 % text.Length));
        }, iter: 3_000, threads: 1);
    }

    private static JsonNode Mutate(JsonNode root, (int Where, int How, int Value)[] steps)
    {
        foreach (var (where, how, value) in steps)
        {
            var places = Places(root).ToList();
            if (places.Count == 0) break;
            var (parent, key) = places[where % places.Count];
            var node = JsonNode.Parse(Values[value]);
            if (parent is JsonObject o)
            {
                if (how == 0) o.Remove((string)key);
                else if (how == 1) o[(string)key + "x"] = node;
                else o[(string)key] = node;
            }
            else if (parent is JsonArray a)
            {
                if (how == 0) a.RemoveAt((int)key);
                else if (how == 1) a.Insert((int)key, a[(int)key]?.DeepClone());
                else a[(int)key] = node;
            }
        }

        return root;
    }

    private static IEnumerable<(JsonNode Parent, object Key)> Places(JsonNode node) => node switch
    {
        JsonObject o => o.SelectMany(p => Below(p.Value).Prepend((o, p.Key))),
        JsonArray a => a.SelectMany((item, i) => Below(item).Prepend((a, i))),
        _ => [],
    };

    private static IEnumerable<(JsonNode, object)> Below(JsonNode? node) => node is null ? [] : Places(node);

    private static void AssertLoads(VehicleDescription vehicle)
    {
        var combination = Examples.Coupled(vehicle);
        var model = new LoadModel(combination);
        var state = new double[combination.StateSize];
        var maps = model.LiftConfigurations().ToList();
        Assert.NotEmpty(maps);
        Assert.All(maps, map => Assert.All(Enumerable.Range(0, map.Rows), row => Assert.True(double.IsFinite(map.Load(row, state)))));
    }
}
