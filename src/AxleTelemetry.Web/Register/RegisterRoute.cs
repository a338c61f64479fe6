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
    public static EpisodeQuery Query(long? from, long? to) =>
        new() { OverloadsOnly = true, From = from is { } begin ? new Moment(begin) : null, To = to is { } end ? new Moment(end) : null };

    public static async Task<IResult> CsvAsync(string? find, long? from, long? to, string? place, IRegisterSight sight, HttpContext http) =>
        Results.File(Encoding.UTF8.GetBytes(TableFile.Csv(RegisterTable.Columns, await ReadAsync(find, from, to, place, sight, http.RequestAborted))), "text/csv; charset=utf-8", "register.csv");

    public static async Task<IResult> JsonAsync(string? find, long? from, long? to, string? place, IRegisterSight sight, HttpContext http) =>
        Results.File(TableFile.Json(RegisterTable.Columns, await ReadAsync(find, from, to, place, sight, http.RequestAborted)), "application/json", "register.json");

    public static async Task<ImmutableArray<EpisodeLine>> ReadAsync(string? find, long? from, long? to, string? place, IRegisterSight sight, CancellationToken cancel) =>
        new RegisterFilter(find ?? "", RegisterFilter.ReadPlace(place)).Of(await sight.ReadAsync(Query(from, to), cancel));
}
