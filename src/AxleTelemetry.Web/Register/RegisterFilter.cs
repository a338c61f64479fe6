using System.Globalization;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Web.Sight;

namespace AxleTelemetry.Web.Register;

/// <summary>What is looked for in the register, as it stands in the address.</summary>
/// <param name="Find">In vehicle, plate, what, and source; empty for everything.</param>
/// <param name="Place">Latitude, longitude and kilometres around; <c>null</c> for everywhere.</param>
internal sealed record RegisterFilter(string Find, (double Latitude, double Longitude, double Kilometres)? Place)
{
    private const double EarthKilometres = 6371;

    /// <summary>Reads a place: <c>46.1 14.5 20</c>.</summary>
    public static (double Latitude, double Longitude, double Kilometres)? ReadPlace(string? text)
    {
        double[] numbers = [.. (text ?? "").Split([' ', ',', ';'], StringSplitOptions.RemoveEmptyEntries).Select(t => double.TryParse(t, NumberStyles.Float, CultureInfo.InvariantCulture, out var n) ? n : double.NaN)];
        return numbers is [var latitude, var longitude, ..] && Math.Abs(latitude) <= 90 && Math.Abs(longitude) <= 180 && (numbers.Length == 2 || numbers is [_, _, > 0])
            ? (latitude, longitude, numbers.Length == 2 ? 10 : numbers[2]) : null;
    }

    /// <summary>What is asked of the register for it.</summary>
    public EpisodeQuery Query(Moment? from, Moment? to) => new() { OverloadsOnly = true, From = from, To = to, Fits = Fits };

    public bool Fits(EpisodeLine line) => FitsText(line) && FitsPlace(line);

    private bool FitsText(EpisodeLine line) => Find.Length == 0
        || ((string[])[line.Vehicle.Id, line.Plate, line.About, line.Source, line.Versions]).Any(t => t.Contains(Find, StringComparison.OrdinalIgnoreCase));

    private bool FitsPlace(EpisodeLine line) => Place is not { } place
        || line is { Latitude: { } latitude, Longitude: { } longitude } && Kilometres(place.Latitude, place.Longitude, latitude, longitude) <= place.Kilometres;

    // Great circle on a sphere.
    private static double Kilometres(double lat1, double lon1, double lat2, double lon2)
    {
        var (a, b) = (lat1 * Math.PI / 180, lat2 * Math.PI / 180);
        var half = Math.Pow(Math.Sin((b - a) / 2), 2) + Math.Cos(a) * Math.Cos(b) * Math.Pow(Math.Sin((lon2 - lon1) * Math.PI / 360), 2);
        return 2 * EarthKilometres * Math.Asin(Math.Sqrt(half));
    }
}
