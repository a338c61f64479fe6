namespace AxleTelemetry.Domain.Vehicles;

/// <summary>
/// What every axle of a combination is doing, and in which setting its suspensions are: one point of the set
/// {loaded, unloaded, raised} for each axle times the modes. Axles count through the whole combination, front to rear.
/// </summary>
/// <param name="Raised">Bit per axle: off the road.</param>
/// <param name="Unloaded">Bit per axle: wheels on the road, bellows relieved.</param>
/// <param name="AtCeiling">Bit per axle: held at the ceiling of its pressure-limiting valve.</param>
/// <param name="Modes">Four bits per body: index of its suspension mode.</param>
/// <remarks><c>default</c>: every axle loaded, every suspension normal.</remarks>
public readonly record struct Configuration(uint Raised, uint Unloaded = 0, uint AtCeiling = 0, ulong Modes = 0)
{
    /// <summary>Most axles a combination may have.</summary>
    public const int MostAxles = 32;

    /// <summary>Most bodies a combination may have.</summary>
    public const int MostBodies = 8;

    /// <summary>What one axle is doing.</summary>
    public AxleState this[int axle] =>
        (Raised >> axle & 1) != 0 ? AxleState.Raised
        : (Unloaded >> axle & 1) != 0 ? AxleState.Unloaded
        : AxleState.Loaded;

    /// <summary>True where the axle is held at its valve's ceiling.</summary>
    public bool IsAtCeiling(int axle) => (AtCeiling >> axle & 1) != 0;

    /// <summary>Index of a body's suspension mode.</summary>
    public int Mode(int body) => (int)(Modes >> (4 * body) & 15);

    /// <summary>This configuration with one axle doing something else. Its ceiling is forgotten: it follows from the load.</summary>
    public Configuration With(int axle, AxleState state)
    {
        var bit = 1u << axle;
        return this with
        {
            Raised = state == AxleState.Raised ? Raised | bit : Raised & ~bit,
            Unloaded = state == AxleState.Unloaded ? Unloaded | bit : Unloaded & ~bit,
            AtCeiling = 0,
        };
    }

    /// <summary>This configuration with one body in another suspension mode.</summary>
    public Configuration WithMode(int body, int mode) => this with
    {
        Modes = Modes & ~(15ul << (4 * body)) | (ulong)(uint)mode << (4 * body),
        AtCeiling = 0,
    };
}

/// <summary>What an axle is doing.</summary>
public enum AxleState
{
    /// <summary>On the road and carrying its share.</summary>
    Loaded,

    /// <summary>On the road with relieved bellows: it carries its own mass and a small residual.</summary>
    Unloaded,

    /// <summary>Off the road: the body carries its mass.</summary>
    Raised,
}
