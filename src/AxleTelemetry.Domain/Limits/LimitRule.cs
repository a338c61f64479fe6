namespace AxleTelemetry.Domain.Limits;

/// <summary>One rule of a table: what it limits, under which conditions, and where in the act it stands.</summary>
public abstract record LimitRule
{
    private protected LimitRule() { }

    /// <summary>The place within the act, for example <c>Annex I, 3.2.1</c>.</summary>
    public required string Clause { get; init; }

    /// <summary>How far this rule may be trusted, where that differs from the table.</summary>
    public LimitStatus? Status { get; init; }

    /// <summary>What a reader must know beside the figure. May be empty.</summary>
    public string Note { get; init; } = "";

    /// <summary>Trips for which it holds.</summary>
    public TripScope Trips { get; init; } = TripScope.All;
}

/// <summary>A rule about a mass.</summary>
public abstract record MassRule : LimitRule
{
    private protected MassRule() { }

    /// <summary>What the rule does with its figure.</summary>
    public required RuleEffect Effect { get; init; }

    /// <summary>How the driving axles must be fitted; <c>null</c>: any way.</summary>
    public Fitting? Fitted { get; init; }
}

/// <summary>A rule about one axle on the road.</summary>
public sealed record AxleRule : MassRule
{
    /// <summary>True: driven axles. False: all others.</summary>
    public required bool Driving { get; init; }

    /// <summary>True: only an axle that belongs to no group of this table.</summary>
    public bool SingleOnly { get; init; }
}

/// <summary>A rule about neighbouring axles taken together.</summary>
public sealed record GroupRule : MassRule
{
    /// <summary>Whose axles.</summary>
    public required VehicleClass Vehicle { get; init; }

    /// <summary>Number of loaded axles in the group.</summary>
    public required int Axles { get; init; }

    /// <summary>Distance between neighbours.</summary>
    public SpacingRange Spacing { get; init; }
}

/// <summary>A rule about the gross mass of one vehicle.</summary>
public sealed record VehicleRule : MassRule
{
    /// <summary>Which vehicles.</summary>
    public required VehicleClass Vehicle { get; init; }

    /// <summary>Number of axles on the road.</summary>
    public required CountRange Axles { get; init; }

    /// <summary>Least number of steered axles on the road; <c>null</c>: any.</summary>
    public int? SteeredAxles { get; init; }
}

/// <summary>A rule about the gross mass of a powered unit with one trailer.</summary>
public sealed record CombinationRule : MassRule
{
    /// <summary>How the trailer is coupled.</summary>
    public required CombinationShape Shape { get; init; }

    /// <summary>Axles of the powered unit on the road.</summary>
    public required CountRange MotorAxles { get; init; }

    /// <summary>Axles of the trailer on the road.</summary>
    public required CountRange TrailerAxles { get; init; }

    /// <summary>Distance between the trailer's neighbouring axles.</summary>
    public SpacingRange TrailerSpacing { get; init; }

    /// <summary>True: only where the trip is declared intermodal.</summary>
    public bool Intermodal { get; init; }
}

/// <summary>A rule about the least share of the whole mass that rests on the driving axles.</summary>
public sealed record DrivingShareRule : LimitRule
{
    /// <summary>Least share, above 0 and below 1.</summary>
    public required double Least { get; init; }
}
