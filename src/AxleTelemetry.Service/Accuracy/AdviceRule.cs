using System.Collections.Immutable;
using System.Numerics;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Simulator.Days;

namespace AxleTelemetry.Service.Accuracy;

/// <summary>What would be right to advise, from the truth alone.</summary>
internal sealed class AdviceRule(Combination combination, TrueLimits limits)
{
    /// <summary>Nearer to a limit than this, as a fraction of it, nothing is clearly right.</summary>
    public const double Clear = 0.03;

    /// <summary>What is right in a moment; <c>null</c> where another position of the lifts is too near to a limit to say.</summary>
    /// <param name="now">How it is.</param>
    /// <param name="inLifts">How it would be with the lifts otherwise; those that are not possible are not there.</param>
    public Advice? Right(TrueMoment now, ImmutableArray<LiftedLoads> inLifts)
    {
        var isOver = limits.Room(now.Configuration, now.Rows.AsSpan()) < 0;
        var holds = false;
        foreach (var other in inLifts)
        {
            if (other.Raised == now.Configuration.Raised) continue;
            var configuration = now.Configuration with { Raised = other.Raised, Unloaded = 0 };
            if (!isOver)
            {
                if (!IsHigher(other.Raised, now.Configuration.Raised)) continue;
                var spare = SpareToRise(other, now.Configuration.Raised);
                if (Math.Abs(spare) < Clear) return null;
                if (spare < 0) continue;
            }

            if (limits.Nearest(configuration, other.Rows.AsSpan()) < Clear) return null;
            holds |= limits.Room(configuration, other.Rows.AsSpan()) > 0;
        }

        return (isOver, holds) switch
        {
            (true, true) => Advice.SetAxles,
            (true, false) => Advice.Unload,
            (false, true) => Advice.Raise,
            (false, false) => Advice.Leave,
        };
    }

    /// <summary>True where every limit holds in truth with the lifts so.</summary>
    public bool Holds(Configuration configuration, ImmutableArray<LiftedLoads> inLifts)
    {
        foreach (var other in inLifts)
            if (other.Raised == configuration.Raised)
                return limits.Room(configuration with { Unloaded = 0, AtCeiling = 0 }, other.Rows.AsSpan()) >= 0;
        return false;
    }

    private static bool IsHigher(uint raised, uint now) => (raised & now) == now && raised != now;

    // What the automatic control lets rise: nobody beside it, or in front, would carry more than its threshold.
    private double SpareToRise(LiftedLoads other, uint now)
    {
        var least = double.PositiveInfinity;
        for (var rising = other.Raised & ~now; rising != 0; rising &= rising - 1)
        {
            var axle = combination.Axles[BitOperations.TrailingZeroCount(rising)];
            least = Math.Min(least, axle.Axle.Lift!.RaiseBelow - MostUsed(combination.Bodies[axle.Body], other));
        }

        return least;
    }

    private static double MostUsed(BodyPart body, LiftedLoads other)
    {
        var most = 0.0;
        for (var i = 0; i < body.Vehicle.Axles.Length; i++)
        {
            var axle = body.Vehicle.Axles[i];
            var rated = axle.Registered is { } registered && registered < axle.Rating ? registered : axle.Rating;
            most = Math.Max(most, other.Rows[body.FirstAxle + i] / rated.Kilograms);
        }

        return most;
    }
}
