using System.Text;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Web.Sight;
using Microsoft.AspNetCore.Http;

namespace AxleTelemetry.Web.Register;

/// <summary>The register as a file: the same lines as the page shows under the same address.</summary>
internal static class RegisterRoute
{
    public static EpisodeQuery Query(long? from, long? to) =>
        new() { OverloadsOnly = true, From = from is { } begin ? new Moment(begin) : null, To = to is { } end ? new Moment(end) : null };

    public static async Task<IResult> CsvAsync(string? find, long? from, long? to, string? place, IRegisterSight sight, HttpContext http)
    {
        var lines = await sight.ReadAsync(Query(from, to), http.RequestAborted);
        var shown = new RegisterFilter(find ?? "", RegisterFilter.ReadPlace(place)).Of(lines);
        return Results.File(Encoding.UTF8.GetBytes(RegisterCsv.Of(shown)), "text/csv; charset=utf-8", "register.csv");
    }
}
