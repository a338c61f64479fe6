using System.Text;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Messages.Limits;

namespace AxleTelemetry.Messages.Tests.Limits;

public sealed class LimitSetFileTests
{
    [Fact]
    public void One_number_changed_in_a_copy_changes_the_limit()
    {
        var text = Encoding.UTF8.GetString(LimitSetFile.ShippedText(LimitSetFile.Directive));
        var changed = text.Replace("\"driving\": true, \"kg\": 11500", "\"driving\": true, \"kg\": 12000", StringComparison.Ordinal);
        Assert.NotEqual(text, changed);
        var path = Path.GetTempFileName();
        try
        {
            File.WriteAllText(path, changed);
            Assert.Equal(12_000, DriveLimit(LimitSetParserTests.Parsed(LimitSetFile.Load(path))));
            Assert.Equal(11_500, DriveLimit(LimitSetParserTests.Parsed(LimitSetFile.Shipped(LimitSetFile.Directive))));
        }
        finally
        {
            File.Delete(path);
        }
    }

    [Fact]
    public void A_file_that_is_not_there_is_refused_with_its_name()
    {
        var path = Path.Combine(Path.GetTempPath(), "no-such-table.json");
        var error = Assert.Single(Assert.IsType<LimitSetResult.Refused>(LimitSetFile.Load(path)).Errors);
        Assert.Equal(path, error.Path);
    }

    [Fact]
    public void A_name_that_is_not_shipped_throws() =>
        Assert.Throws<ArgumentException>(() => LimitSetFile.Shipped("nowhere"));

    private static double DriveLimit(LimitSet set)
    {
        var coupled = (CouplingResult.Coupled)Combination.Couple([Rigid()]);
        return MarginTable.For(coupled.Combination, default, set, LimitContext.Undeclared).Single(m => m.Key == new MarginKey(MarginKind.Axle, 0, 1)).Limit;
    }

    private static VehicleDescription Rigid() => new()
    {
        Id = "RG-1",
        Kind = VehicleKind.Rigid,
        Axles = [Axle("front", AxleRole.Steer, 0), Axle("drive", AxleRole.Drive, 4.5)],
        Front = new AxleGroup { Name = "front", Axles = [0], Law = ShareLaw.OneCircuit },
        Rear = new AxleGroup { Name = "rear", Axles = [1], Law = ShareLaw.OneCircuit },
        Modes = [new SuspensionMode { Name = "normal", Weights = [1, 1], OffsetKilograms = [0, 0] }],
        Kerb = new KerbWeighing { AxleLoads = [Mass.FromKilograms(4_000), Mass.FromKilograms(3_000)] },
        Registered = new RegisteredMasses { Gross = Mass.FromKilograms(18_000) },
    };

    private static Axle Axle(string key, AxleRole role, double metres) => new()
    {
        Key = key,
        Role = role,
        Position = Length.FromMetres(metres),
        Unsprung = Mass.FromKilograms(700),
        Rating = Mass.FromKilograms(13_000),
        Tyres = new Tyres { Count = 4, Capacity = Mass.FromKilograms(13_000) },
    };
}
