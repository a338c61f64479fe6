using System.Collections.Immutable;

namespace AxleTelemetry.Domain.Turning;

/// <summary>What comes of driving round with the front outer corner on the outer circle.</summary>
public abstract record Turn
{
    private Turn()
    {
    }

    /// <summary>It goes round.</summary>
    /// <param name="InnerRadius">Radius of the innermost circle that any part reaches, m.</param>
    /// <param name="SweptWidth">Width of the ring it sweeps, m.</param>
    /// <param name="OffTracking">How far the last axle line runs inside the first axle, m.</param>
    /// <param name="Spare">Room to the inner circle of the ring, m; negative is what is missing.</param>
    /// <param name="Slips">The fixed axles on the road with their slip.</param>
    public sealed record Round(double InnerRadius, double SweptWidth, double OffTracking, double Spare, ImmutableArray<AxleSlip> Slips) : Turn
    {
        /// <summary>True where it stays within the ring.</summary>
        public bool Passes => Spare >= 0;

        /// <summary>Greatest slip angle of a fixed axle, radians.</summary>
        public double MostSlip => Slips.Max(s => Math.Abs(s.Radians));
    }

    /// <summary>The bend is too tight for it.</summary>
    /// <param name="Body">The first vehicle that cannot follow.</param>
    public sealed record TooTight(int Body) : Turn;

    /// <summary>Every axle of a vehicle steers: nothing here tells about which line it turns.</summary>
    /// <param name="Body">That vehicle.</param>
    public sealed record NoFixedAxle(int Body) : Turn;
}

/// <summary>How far an axle's wheels point beside where they go.</summary>
/// <param name="Axle">The axle, counted through the combination.</param>
/// <param name="Distance">From the line through the turning centre, m, rearward positive.</param>
/// <param name="Radians">Slip angle.</param>
public readonly record struct AxleSlip(int Axle, double Distance, double Radians);
