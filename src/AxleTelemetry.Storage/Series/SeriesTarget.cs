namespace AxleTelemetry.Storage.Series;

/// <summary>A database that speaks InfluxDB's version 2 of writing.</summary>
/// <param name="Address">Where, such as http://127.0.0.1:8086.</param>
/// <param name="Organisation">Its organisation.</param>
/// <param name="Bucket">Its bucket.</param>
public sealed record SeriesTarget(Uri Address, string Organisation, string Bucket);

/// <summary>What came of sending points.</summary>
public abstract record SendOutcome
{
    private SendOutcome() { }

    /// <summary>All of them are there.</summary>
    public sealed record Taken : SendOutcome;

    /// <summary>The database refuses one or more of them; the others may be there.</summary>
    /// <param name="Reason">What it says.</param>
    public sealed record Refused(string Reason) : SendOutcome;

    /// <summary>Too many at once.</summary>
    public sealed record TooLarge : SendOutcome;

    /// <summary>It cannot be told, or it is not there: to be tried again.</summary>
    /// <param name="Reason">Why, for people.</param>
    /// <param name="After">When it asks to be tried again; <c>null</c> where it does not say.</param>
    public sealed record Unavailable(string Reason, TimeSpan? After) : SendOutcome;
}
