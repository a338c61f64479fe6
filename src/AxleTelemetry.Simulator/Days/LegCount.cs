using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Simulator.Days;

/// <summary>Keeps the greatest loads of the leg that is being driven.</summary>
internal sealed class LegCount
{
    private Moment _from;
    private double _begun;
    private double[]? _greatest;
    private double _gross;

    /// <summary>A second in which the wheels rolled.</summary>
    public void Roll(Moment now, Rig rig, double odometer)
    {
        if (_greatest is null)
        {
            (_from, _begun, _gross) = (now, odometer, 0);
            _greatest = new double[rig.Described.Axles.Length];
        }

        for (var i = 0; i < _greatest.Length; i++) _greatest[i] = Math.Max(_greatest[i], rig.Loads.Level.Axles[i]);
        _gross = Math.Max(_gross, rig.Loads.Gross);
    }

    /// <summary>The leg is over; <c>null</c> where nothing was driven.</summary>
    public TruthRecord.Leg? End(Moment now, Rig rig, double odometer)
    {
        if (_greatest is not { } greatest) return null;
        _greatest = null;
        return new TruthRecord.Leg
        {
            At = now,
            From = _from,
            Metres = odometer - _begun,
            Vehicles = rig.Ids,
            Payloads = rig.Aboard(rig.Payload),
            Axles = AxlesOf(rig, i => greatest[i]),
            GrossKilograms = _gross,
            InLifts = [.. rig.InLifts()],
        };
    }

    public static ImmutableArray<AxleTruth> AxlesOf(Rig rig, Func<int, double> load) =>
        [.. rig.Described.Axles.Select(a => new AxleTruth(rig.Ids[a.Body], a.Axle.Key, rig.Configuration[a.Index], load(a.Index)))];
}
