using System.Globalization;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Web.Texts;

namespace AxleTelemetry.Web.Look;

/// <summary>Times as the viewer reads them.</summary>
/// <param name="Zone">The viewer's zone.</param>
public sealed record ViewerZone(TimeZoneInfo Zone)
{
    // Two centuries either way: no zone leads out of the calendar there.
    private const long MostMilliseconds = 200L * 366 * 86_400_000;

    public static ViewerZone Utc { get; } = new(TimeZoneInfo.Utc);

    /// <summary>Where times are of UTC, they say so.</summary>
    private string Suffix => Zone.Equals(TimeZoneInfo.Utc) ? $" {Words.Utc}" : "";

    /// <summary>The zone of a name of the IANA database; UTC for a name that this machine does not know.</summary>
    public static ViewerZone Of(string? name) => name is { Length: > 0 } && TimeZoneInfo.TryFindSystemTimeZoneById(name, out var zone) ? new(zone) : Utc;

    /// <summary>A moment as addresses have it, ms since 1970 in UTC; <c>null</c> where none is said, or one of a year that no calendar here has.</summary>
    public static Moment? OfAddress(long? at) => at is >= -MostMilliseconds and <= MostMilliseconds ? new Moment(at.Value) : null;

    /// <summary>The same of a text: what is no number says none.</summary>
    public static Moment? OfAddress(string? at) => long.TryParse(at, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out var milliseconds) ? OfAddress(milliseconds) : null;

    /// <summary>Time of day where it is of today, else with its date.</summary>
    public string Clock(Moment at, Moment now)
    {
        var (then, today) = (At(at), At(now));
        var format = then.Date == today.Date ? "HH:mm" : then.Year == today.Year ? "d MMM HH:mm" : "d MMM yyyy HH:mm";
        return then.ToString(format, CultureInfo.InvariantCulture) + Suffix;
    }

    /// <summary>Date and time of day to the second.</summary>
    public string Whole(Moment at) => At(at).ToString("d MMM yyyy HH:mm:ss", CultureInfo.InvariantCulture) + Suffix;

    /// <summary>As a field for date and time has it.</summary>
    public DateTime Field(Moment at)
    {
        var wall = At(at);
        return new DateTime(wall.Year, wall.Month, wall.Day, wall.Hour, wall.Minute, 0, DateTimeKind.Unspecified);
    }

    /// <summary>The moment of such a field; <c>null</c> where it holds none.</summary>
    public Moment? Read(DateTime? field)
    {
        if (field is not { } local) return null;
        // An hour that the clock leaps over in spring is read as the hour after it.
        var wall = DateTime.SpecifyKind(local, DateTimeKind.Unspecified);
        if (Zone.IsInvalidTime(wall)) wall = wall.AddHours(1);
        return new Moment(new DateTimeOffset(wall, Zone.GetUtcOffset(wall)).ToUnixTimeMilliseconds());
    }

    private DateTimeOffset At(Moment at) => TimeZoneInfo.ConvertTime(DateTimeOffset.FromUnixTimeMilliseconds(at.UnixMilliseconds), Zone);
}
