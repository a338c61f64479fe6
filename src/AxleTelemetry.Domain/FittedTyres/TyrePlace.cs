using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.FittedTyres;

/// <summary>Where on a fleet's vehicles a tyre may be.</summary>
/// <param name="Vehicle">Id of the vehicle.</param>
/// <param name="Axle">Key of the axle.</param>
/// <param name="Position">Where on the axle.</param>
public readonly record struct TyrePlace(string Vehicle, string Axle, TyrePosition Position)
{
    /// <summary>What is wrong with the place on a vehicle; <c>null</c> where nothing is.</summary>
    public string? WrongOn(VehicleDescription vehicle)
    {
        var index = vehicle.IndexOfAxle(Axle);
        if (index < 0) return $"No axle of '{vehicle.Id}' has the key '{Axle}'. Axles are {string.Join(", ", vehicle.Axles.Select(a => a.Key))}.";
        return vehicle.Axles[index].Tyres.Twin == Position.IsTwin() ? null
            : vehicle.Axles[index].Tyres.Twin ? $"'{Axle}' has twin tyres: outer or inner has to be said." : $"'{Axle}' has single tyres: left or right is all there is.";
    }

    /// <inheritdoc/>
    public override string ToString() => $"{Vehicle} {Axle} {Position}";
}

/// <summary>Where on an axle.</summary>
public enum TyrePosition
{
    /// <summary>The left of two.</summary>
    Left,

    /// <summary>The right of two.</summary>
    Right,

    /// <summary>Of twins on the left, the outer.</summary>
    LeftOuter,

    /// <summary>Of twins on the left, the inner.</summary>
    LeftInner,

    /// <summary>Of twins on the right, the inner.</summary>
    RightInner,

    /// <summary>Of twins on the right, the outer.</summary>
    RightOuter,
}

/// <summary>What follows from a position.</summary>
public static class TyrePositions
{
    /// <summary>True for one of twins.</summary>
    public static bool IsTwin(this TyrePosition position) => position is not (TyrePosition.Left or TyrePosition.Right);
}
