namespace AxleTelemetry.Web.People;

/// <summary>What may be done. Every address and every page asks for one of these.</summary>
public enum Right
{
    /// <summary>See what the service knows of vehicles: loads, places, alerts, register, account.</summary>
    Look,

    /// <summary>Read messages as vehicles sent them: the finest trace of where somebody was when.</summary>
    ReadRaw,

    /// <summary>Act on alerts: acknowledge, shelve, take out of service, state what was done.</summary>
    Act,

    /// <summary>Let a lane go on that stopped by a fault of the program.</summary>
    Repair,

    /// <summary>Add people, give roles, make tokens, read who did what.</summary>
    SetUp,
}
