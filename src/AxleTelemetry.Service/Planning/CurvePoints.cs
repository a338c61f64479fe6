using System.Collections.Immutable;
using AxleTelemetry.Domain.Planning;

namespace AxleTelemetry.Service.Planning;

/// <summary>Points on a bound, closer where it bends: lines between them depart from it by next to nothing.</summary>
internal static class CurvePoints
{
    private const double Departure = 8;
    private const int MostHalvings = 7;

    public static ImmutableArray<(double Metres, double Kilograms)> Of(BoundLine line, (double From, double To) over)
    {
        var points = ImmutableArray.CreateBuilder<(double, double)>();
        points.Add((over.From, line.At(over.From)));
        Add(line, over, MostHalvings, points);
        return points.ToImmutable();
    }

    private static void Add(BoundLine line, (double From, double To) over, int halvings, ImmutableArray<(double Metres, double Kilograms)>.Builder points)
    {
        var middle = (over.From + over.To) / 2;
        var departs = Math.Abs(line.At(middle) - (line.At(over.From) + line.At(over.To)) / 2) > Departure;
        if (halvings > 0 && departs)
        {
            Add(line, (over.From, middle), halvings - 1, points);
            Add(line, (middle, over.To), halvings - 1, points);
        }
        else
        {
            points.Add((over.To, line.At(over.To)));
        }
    }
}
