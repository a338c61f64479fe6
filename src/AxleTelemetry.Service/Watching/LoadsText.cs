using AxleTelemetry.Domain.Wording;
using AxleTelemetry.Service.Sharding;

namespace AxleTelemetry.Service.Watching;

/// <summary>A combination's loads as they stand, for people: a heading, then a line for each axle and each sum.</summary>
internal static class LoadsText
{
    /// <summary>Writes nothing of a combination of which nothing is known.</summary>
    public static void Write(VehicleState unit, TextWriter output)
    {
        if (unit.View is not { } view) return;
        output.WriteLine($"{string.Join(" + ", unit.Members.Select(m => m.Id))} at {view.At}: {UnitText.Moves(view.Movement)}, {UnitText.Worth(view)}");
        var names = new Names(view.Combination);
        foreach (var (text, _) in UnitText.Axles(view, names).Concat(UnitText.Sums(view))) output.WriteLine($"  {text}");
    }
}
