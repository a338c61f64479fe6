using System.Text;
using AxleTelemetry.Web.Look;
using AxleTelemetry.Web.Sight;
using Microsoft.AspNetCore.Http;

namespace AxleTelemetry.Web.Register;

/// <summary>The register as a file: the same lines as the page shows under the same address.</summary>
internal static class RegisterRoute
{
    public static Task<IResult> CsvAsync([AsParameters] RegisterAddress asked, IRegisterSight sight, HttpContext http) => FileAsync(asked, sight, http.RequestAborted,
        (lines, name) => Results.File(Encoding.UTF8.GetBytes(TableFile.Csv(RegisterTable.Columns, lines)), "text/csv; charset=utf-8", $"{name}.csv"));

    public static Task<IResult> JsonAsync([AsParameters] RegisterAddress asked, IRegisterSight sight, HttpContext http) => FileAsync(asked, sight, http.RequestAborted,
        (lines, name) => Results.File(TableFile.Json(RegisterTable.Columns, lines), "application/json", $"{name}.json"));

    private static async Task<IResult> FileAsync(RegisterAddress asked, IRegisterSight sight, CancellationToken cancel, Func<EpisodeLine[], string, IResult> file)
    {
        // A file does not say what it was narrowed by: better none than one with everything in it.
        if (asked.From is { } from && ViewerZone.OfAddress(from) is null) return Refused("from", $"{from}", "milliseconds since 1970 in UTC");
        if (asked.To is { } to && ViewerZone.OfAddress(to) is null) return Refused("to", $"{to}", "milliseconds since 1970 in UTC");
        if (asked.Place is { Length: > 0 } text && RegisterFilter.ReadPlace(text) is null) return Refused("place", text, "latitude, longitude and kilometres, such as '46.1 14.5 20'");
        if (RegisterTable.Order.Read(asked.Sort) is not { } order) return Refused("sort", asked.Sort!, RegisterTable.Order.Right);
        var found = await sight.ReadAsync(new RegisterFilter(asked.Find ?? "", RegisterFilter.ReadPlace(asked.Place)).Query(ViewerZone.OfAddress(asked.From), ViewerZone.OfAddress(asked.To)), cancel);
        var lines = await sight.WithContactsAsync(RegisterTable.Order.Of(found.Lines, order), cancel);
        // What it is not whole of stands in its name.
        return file(lines, found.BackTo is { } back ? FormattableString.Invariant($"register-back-to-{DateTimeOffset.FromUnixTimeMilliseconds(back.UnixMilliseconds):yyyy-MM-dd}") : "register");
    }

    private static IResult Refused(string field, string value, string right) =>
        Results.Problem(title: "The address is not understood.", detail: $"{field}: '{value}' is not {right}.", statusCode: StatusCodes.Status400BadRequest);
}

/// <summary>What an address of the register narrows and orders it by.</summary>
internal sealed record RegisterAddress(string? Find, long? From, long? To, string? Place, string? Sort);
