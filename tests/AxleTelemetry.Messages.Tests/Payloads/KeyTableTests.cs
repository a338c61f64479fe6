using System.Text;
using AxleTelemetry.Messages.Payloads;
using CsCheck;

namespace AxleTelemetry.Messages.Tests.Payloads;

public class KeyTableTests
{
    [Fact]
    public void Every_name_is_found_at_its_place_and_no_other() =>
        Gen.Select(Gen.String[Gen.Char["ab\u00e9-"], 1, 20].HashSet[0, 60], Gen.String[Gen.Char["ab\u00e9-"], 0, 20]).Sample((names, other) =>
        {
            var table = new NameTable(names);
            var found = names.Select((name, i) => table.Find(Encoding.UTF8.GetBytes(name)) == i).All(right => right);
            return found && (names.Contains(other) || table.Find(Encoding.UTF8.GetBytes(other)) == -1);
        });

    [Fact]
    public void Names_alike_at_head_and_tail_are_told_apart()
    {
        var names = Enumerable.Range(0, 500).Select(i => $"circuit-{i:000}-pressure").ToArray();
        var table = new KeyTable(names, names, names);
        for (var i = 0; i < names.Length; i++) Assert.Equal(i, table.FindSensor(Encoding.UTF8.GetBytes(names[i])));
    }

    [Fact]
    public void Sensors_axles_and_modes_are_apart()
    {
        Assert.Equal((0, 1, -1), (Decoded.Keys.FindSensor("drive"u8), Decoded.Keys.FindAxle("drive"u8), Decoded.Keys.FindMode("drive"u8)));
        Assert.Equal(1, Decoded.Keys.FindMode("traction"u8));
    }

    [Fact]
    public void A_repeated_or_empty_name_is_an_error_of_the_description()
    {
        Assert.Throws<ArgumentException>(() => new KeyTable(["a", "a"], [], []));
        Assert.Throws<ArgumentException>(() => new KeyTable([], [""], []));
    }
}
