using System.Collections.Immutable;
using System.Text;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Web.Look;
using AxleTelemetry.Web.Sight;
using Microsoft.AspNetCore.Http;

namespace AxleTelemetry.Web.Register;

/// <summary>The register as a file: the same lines as the page shows under the same address.</summary>
internal static class RegisterRoute
{
    public static EpisodeQuery Query(long? from, long? to) => new() { OverloadsOnly = true, From = ViewerZone.OfAddress(from), To = ViewerZone.OfAddress(to) };

    public static Task<IResult> CsvAsync(string? find, long? from, long? to, string? place, IRegisterSight sight, HttpContext http) => FileAsync((find, from, to, place), sight, http.RequestAborted,
        (lines, name) => Results.File(Encoding.UTF8.GetBytes(TableFile.Csv(RegisterTable.Columns, lines)), "text/csv; charset=utf-8", $"{name}.csv"));

    public static Task<IResult> JsonAsync(string? find, long? from, long? to, string? place, IRegisterSight sight, HttpContext http) => FileAsync((find, from, to, place), sight, http.RequestAborted,
        (lines, name) => Results.File(TableFile.Json(RegisterTable.Columns, lines), "application/json", $"{name}.json"));

    private static async Task<IResult> FileAsync((string? Find, long? From, long? To, string? Place) asked, IRegisterSight sight, CancellationToken cancel, Func<ImmutableArray<EpisodeLine>, string, IResult> file)
    {
        // A file does not say what it was narrowed by: better none than one with everything in it.
        if (asked.From is { } from && ViewerZone.OfAddress(from) is null) return Refused("from", $"{from}", "milliseconds since 1970 in UTC");
        if (asked.To is { } to && ViewerZone.OfAddress(to) is null) return Refused("to", $"{to}", "milliseconds since 1970 in UTC");
        if (asked.Place is { Length: > 0 } text && RegisterFilter.ReadPlace(text) is null) return Refused("place", text, "latitude, longitude and kilometres, such as '46.1 14.5 20'");
        var all = await sight.ReadAsync(Query(asked.From, asked.To), cancel);
        var lines = new RegisterFilter(asked.Find ?? "", RegisterFilter.ReadPlace(asked.Place)).Of(all);
        return file(lines, all.Length < EpisodeQuery.Most ? "register" : $"register-of-latest-{EpisodeQuery.Most}");
    }

    private static IResult Refused(string field, string value, string right) =>
        Results.Problem(title: "The address is not understood.", detail: $"{field}: '{value}' is not {right}.", statusCode: StatusCodes.Status400BadRequest);
}
