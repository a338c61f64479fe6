using System.Runtime.InteropServices;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Domain.Running;

namespace AxleTelemetry.Domain.Lanes;

/// <summary>
/// Everything a lane remembers between two inputs, and nothing else: plain numbers in arrays of fixed size. Copied whole
/// it is a snapshot; two lanes that took the same inputs hold the same bits.
/// </summary>
public sealed class LaneState
{
    /// <summary>Makes room for a lane.</summary>
    public LaneState(Estimator estimator, int slots)
    {
        var combination = estimator.Model.Combination;
        Payload = estimator.NewEstimate();
        Provisional = estimator.NewEstimate();
        Known = estimator.NewKnownErrors();
        Sensors = new SensorState[combination.Sensors.Length];
        Axles = new AxleReport[combination.Axles.Length];
        Conditions = new ConditionState[combination.Bodies.Length];
        SplitCounts = new double[combination.Axles.Length];
        Episodes = new EpisodeState[slots];
        Told = new byte[slots];
        AxleTallies = new AxleTally[combination.Axles.Length];
        Aboard = new BodyPayload[combination.Bodies.Length];
    }

    /// <summary>What is believed of the payload, from settled readings.</summary>
    public PayloadEstimate Payload { get; }

    /// <summary>What standing readings say of a load that may have changed at this stop. For telling only.</summary>
    public PayloadEstimate Provisional { get; }

    /// <summary>What has become known of considered errors.</summary>
    public KnownErrors Known { get; }

    /// <summary>Pressure sensors.</summary>
    public SensorState[] Sensors { get; }

    /// <summary>What was reported of each axle.</summary>
    public AxleReport[] Axles { get; }

    /// <summary>What each vehicle reports of itself.</summary>
    public ConditionState[] Conditions { get; }

    /// <summary>Settled readings behind each measured share.</summary>
    public double[] SplitCounts { get; }

    /// <summary>Running episodes, one slot per thing that can be found.</summary>
    public EpisodeState[] Episodes { get; }

    /// <summary>Per slot: highest level told while loading at this stop.</summary>
    public byte[] Told { get; }

    /// <summary>What each axle went through since the period of the account began.</summary>
    public AxleTally[] AxleTallies { get; }

    /// <summary>Per body: the payload that was known of it when it came into the lane. Only until the first settled reading.</summary>
    public BodyPayload[] Aboard { get; }

    /// <summary>What the whole unit's road added up to since then.</summary>
    public UnitTally UnitTally;

    /// <summary>The running account: its period, and what is not yet added.</summary>
    public AccountState Account;

    /// <summary>Which country's limits hold.</summary>
    public PlaceState Place;

    /// <summary>How it moves.</summary>
    public MotionState Motion;

    /// <summary>The running window of settled readings.</summary>
    public WindowState Window;

    /// <summary>The load in hand.</summary>
    public LoadState Load;

    /// <summary>Becomes a copy of another state of the same lane.</summary>
    public void CopyFrom(LaneState other)
    {
        Payload.CopyFrom(other.Payload);
        Provisional.CopyFrom(other.Provisional);
        Known.CopyFrom(other.Known);
        other.Sensors.CopyTo(Sensors, 0);
        other.Axles.CopyTo(Axles, 0);
        other.Conditions.CopyTo(Conditions, 0);
        other.SplitCounts.CopyTo(SplitCounts, 0);
        other.Episodes.CopyTo(Episodes, 0);
        other.Told.CopyTo(Told, 0);
        Motion = other.Motion;
        Window = other.Window;
        Load = other.Load;
        other.AxleTallies.CopyTo(AxleTallies, 0);
        other.Aboard.CopyTo(Aboard, 0);
        UnitTally = other.UnitTally;
        Account = other.Account;
        Place = other.Place;
    }

    /// <summary>True when both hold the same bits.</summary>
    public bool SameBits(LaneState other) =>
        Same<double>(Payload.Cells, other.Payload.Cells) && Payload.Readings == other.Payload.Readings
        && Payload.PlaceIsOpen == other.Payload.PlaceIsOpen
        && Same<double>(Provisional.Cells, other.Provisional.Cells) && Provisional.Readings == other.Provisional.Readings
        && Provisional.PlaceIsOpen == other.Provisional.PlaceIsOpen
        && Same<double>(Known.Cells, other.Known.Cells) && Same<SensorState>(Sensors, other.Sensors)
        && Same<AxleReport>(Axles, other.Axles) && Same<ConditionState>(Conditions, other.Conditions)
        && Same<double>(SplitCounts, other.SplitCounts) && Same<EpisodeState>(Episodes, other.Episodes)
        && Same<byte>(Told, other.Told)
        && Same(new ReadOnlySpan<MotionState>(in Motion), new ReadOnlySpan<MotionState>(in other.Motion))
        && Same(new ReadOnlySpan<WindowState>(in Window), new ReadOnlySpan<WindowState>(in other.Window))
        && Same(new ReadOnlySpan<LoadState>(in Load), new ReadOnlySpan<LoadState>(in other.Load))
        && Same<AxleTally>(AxleTallies, other.AxleTallies)
        && Same<BodyPayload>(Aboard, other.Aboard)
        && Same(new ReadOnlySpan<UnitTally>(in UnitTally), new ReadOnlySpan<UnitTally>(in other.UnitTally))
        && Same(new ReadOnlySpan<AccountState>(in Account), new ReadOnlySpan<AccountState>(in other.Account))
        && Same(new ReadOnlySpan<PlaceState>(in Place), new ReadOnlySpan<PlaceState>(in other.Place));

    private static bool Same<T>(ReadOnlySpan<T> a, ReadOnlySpan<T> b)
        where T : unmanaged => MemoryMarshal.AsBytes(a).SequenceEqual(MemoryMarshal.AsBytes(b));
}

/// <summary>What was reported of one axle.</summary>
public struct AxleReport
{
    /// <summary>Latest report.</summary>
    public LiftReport Report;

    /// <summary>Latest report that says where the axle is.</summary>
    public LiftReport Definite;

    /// <summary>1 once anything was reported.</summary>
    public byte Known;

    /// <summary>When the report last changed.</summary>
    public long ChangedAt;

    /// <summary>1 where pressure says the axle carries nothing although it is said to be on the road.</summary>
    public byte Relieved;

    /// <summary>1 where the axle is said to be raised although its bellows carry and feel the road.</summary>
    public byte Disputed;

    /// <summary>Why it is to stay as it is, as last said since it moved.</summary>
    public LiftReason Reason;

    /// <summary>When that was said.</summary>
    public long ReasonAt;

    /// <summary>Since when the bellows of an axle said to be raised have been compared with its neighbours'; 0 when not.</summary>
    public long FeltSince;

    /// <summary>Road noise of its own circuit summed over the blocks since then, kPa.</summary>
    public double FeltOwn;

    /// <summary>Road noise of its neighbours' circuits, their mean, summed over the same blocks, kPa.</summary>
    public double FeltNext;

    /// <summary>Since when the axle has been raised above 30 km/h with a limit surely passed; 0 when not.</summary>
    public long RaisedOverSince;
}

/// <summary>What one vehicle reports of itself.</summary>
public struct ConditionState
{
    /// <summary>1 while not at driving height.</summary>
    public byte RideOff;

    /// <summary>Suspension mode.</summary>
    public byte Mode;

    /// <summary>1 while the service brake is applied.</summary>
    public byte ServiceBrake;

    /// <summary>1 while the parking brake is applied.</summary>
    public byte ParkingBrake;

    /// <summary>1 while the power take-off is engaged.</summary>
    public byte PowerTakeOff;

    /// <summary>1 while a tail-lift, outrigger or raised body is in use.</summary>
    public byte BodyInUse;

    /// <summary>1 while the bellows hold no air although the vehicle rolls.</summary>
    public byte NoAir;

    /// <summary>1 once the outside temperature was reported.</summary>
    public byte AmbientKnown;

    /// <summary>Outside temperature, degrees Celsius.</summary>
    public double Ambient;

    /// <summary>When the vehicle last said anything, Unix milliseconds; 0 before the first.</summary>
    public long HeardAt;

    /// <summary>When mode or ride height last changed.</summary>
    public long ChangedAt;

    /// <summary>Settled readings in a row of which no circuit that feels this vehicle's load fitted the load in hand.</summary>
    public int Misfits;

    /// <summary>When the first standstill too short for loading began since a settled reading last fitted; 0 when there was none.</summary>
    public long ShortStopAt;
}

/// <summary>The running window of settled readings.</summary>
public struct WindowState
{
    /// <summary>When it began; 0 when none runs.</summary>
    public long Start;

    /// <summary>Odometer when it began, m.</summary>
    public double StartMetres;

    /// <summary>Settled time in it, s.</summary>
    public double SettledSeconds;

    /// <summary>When a settled pressure was last taken.</summary>
    public long LastAt;

    /// <summary>Sum of slopes over the settled speeds.</summary>
    public double SlopeSum;

    /// <summary>Sum of squared speeds, m2/s2.</summary>
    public double SpeedSquaredSum;

    /// <summary>Settled speeds in it.</summary>
    public int Speeds;
}

/// <summary>The load in hand and what may have happened to it.</summary>
public struct LoadState
{
    /// <summary>When the load in hand began, Unix milliseconds; 0 before the first.</summary>
    public long Since;

    /// <summary>1 while a stop may have changed the load and no settled reading has decided yet.</summary>
    public byte MayHaveChanged;

    /// <summary>1 while the standing readings of this stop hold.</summary>
    public byte HasProvisional;

    /// <summary>When the stop began that may have changed the load.</summary>
    public long StopBegan;

    /// <summary>When standing readings were last taken.</summary>
    public long ProvisionalAt;

    /// <summary>When the estimate last took a settled reading; 0 = never.</summary>
    public long SettledAt;

    /// <summary>Odometer at the last settled reading, m.</summary>
    public double SettledMetres;

    /// <summary>Legs since the lane began.</summary>
    public int Legs;

    /// <summary>Settled readings of this leg.</summary>
    public int LegReadings;

    /// <summary>Odometer when the load began, m: fuel burnt since is counted from here.</summary>
    public double BeganMetres;

    /// <summary>A <see cref="TrailerClaims"/> as a number.</summary>
    public long Claims;
}
