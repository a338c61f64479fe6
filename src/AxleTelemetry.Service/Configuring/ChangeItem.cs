using AxleTelemetry.Domain.Calibration;
using AxleTelemetry.Domain.Limits;

namespace AxleTelemetry.Service.Configuring;

/// <summary>One difference between two configurations; its text is a sentence for the log.</summary>
internal abstract record ChangeItem
{
    private ChangeItem() { }

    /// <summary>A fleet that was not there.</summary>
    public sealed record FleetAdded(string Fleet, int Vehicles) : ChangeItem
    {
        public override string ToString() => FormattableString.Invariant($"Fleet {Fleet} added, vehicles: {Vehicles}.");
    }

    /// <summary>A fleet that is gone with all its vehicles.</summary>
    public sealed record FleetRemoved(string Fleet) : ChangeItem
    {
        public override string ToString() => $"Fleet {Fleet} removed.";
    }

    /// <summary>A vehicle that was not there.</summary>
    public sealed record VehicleAdded(string Fleet, string Vehicle) : ChangeItem
    {
        public override string ToString() => $"Vehicle {Fleet}/{Vehicle} added.";
    }

    /// <summary>A vehicle that is gone.</summary>
    public sealed record VehicleRemoved(string Fleet, string Vehicle) : ChangeItem
    {
        public override string ToString() => $"Vehicle {Fleet}/{Vehicle} removed.";
    }

    /// <summary>A vehicle described otherwise.</summary>
    public sealed record VehicleChanged(string Fleet, string Vehicle) : ChangeItem
    {
        public override string ToString() => $"Vehicle {Fleet}/{Vehicle} described anew.";
    }

    /// <summary>A further version of a calibration.</summary>
    public sealed record CalibrationAdded(string Fleet, CalibrationVersion Version) : ChangeItem
    {
        public override string ToString() => $"Calibration {Version.Id} of {Fleet}/{Version.Circuit} added, valid from {Version.ValidFrom}.";
    }

    /// <summary>A version whose tickets were taken out.</summary>
    public sealed record CalibrationRemoved(string Fleet, CalibrationVersion Version) : ChangeItem
    {
        public override string ToString() => $"Calibration {Version.Id} of {Fleet}/{Version.Circuit} removed.";
    }

    /// <summary>A version of the same name that says something else: tickets or the vehicle were corrected.</summary>
    public sealed record CalibrationCorrected(string Fleet, CalibrationVersion Version) : ChangeItem
    {
        public override string ToString() => $"Calibration {Version.Id} of {Fleet}/{Version.Circuit} corrected, valid from {Version.ValidFrom}.";
    }

    /// <summary>Other limits.</summary>
    public sealed record LimitsChanged(string Fleet, string From, string To) : ChangeItem
    {
        public override string ToString() => From == To ? $"Limits of fleet {Fleet} changed within {To}." : $"Limits of fleet {Fleet}: {To} instead of {From}.";
    }

    /// <summary>A permit that came, went or says something else.</summary>
    public sealed record PermitChanged(string Fleet, string Permit, string What) : ChangeItem
    {
        public override string ToString() => $"Permit {Permit} of fleet {Fleet} {What}.";
    }

    /// <summary>Running cost is reckoned with other assumptions.</summary>
    public sealed record AssumptionsChanged(string Fleet) : ChangeItem
    {
        public override string ToString() => $"Fleet {Fleet} reckons running cost with other assumptions.";
    }

    /// <summary>Another default for trips.</summary>
    public sealed record TripChanged(string Fleet, LimitContext From, LimitContext To) : ChangeItem
    {
        public override string ToString() => $"Trips of fleet {Fleet} are {Say(To)} instead of {Say(From)} where nothing else says so.";

        private static string Say(LimitContext trip) => trip.Trip.ToString().ToLowerInvariant() + (trip.Intermodal ? " and intermodal" : "");
    }

    /// <summary>Another allowance for clocks.</summary>
    public sealed record ClockSkew(TimeSpan From, TimeSpan To) : ChangeItem
    {
        public override string ToString() => FormattableString.Invariant($"Clocks may run ahead by {To.TotalSeconds} s instead of {From.TotalSeconds} s.");
    }
}
