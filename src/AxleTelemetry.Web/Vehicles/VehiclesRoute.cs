using System.Collections.Immutable;
using System.Text;
using AxleTelemetry.Web.Look;
using AxleTelemetry.Web.Sight;
using Microsoft.AspNetCore.Http;

namespace AxleTelemetry.Web.Vehicles;

/// <summary>Vehicles as a file: the same as the page shows under the same address. Times in UTC, masses in kg.</summary>
internal static class VehiclesRoute
{
    private static readonly ImmutableArray<Column<VehicleGlance>> _columns =
    [
        new("fleet", v => v.Name.Fleet), new("vehicle", v => v.Name.Id), new("plate", v => v.Plate), new("call_name", v => v.CallName), new("condition", v => Told.Of(v.Condition)),
        new("gross_kg", v => TableFile.Rounded(v.Gross?.Mean)), new("gross_low_kg", v => TableFile.Rounded(v.Gross?.Low)), new("gross_high_kg", v => TableFile.Rounded(v.Gross?.High)),
        new("behind", v => v.Behind?.Id), new("trailers", v => v.Trailers), new("heard", v => v.HeardAt?.ToString()), new("country", v => v.Country),
        new("latitude_deg", v => TableFile.Rounded(v.Latitude, 5)), new("longitude_deg", v => TableFile.Rounded(v.Longitude, 5)), new("being_corrected", v => v.IsCorrected ? "yes" : "no"),
    ];

    public static async Task<IResult> CsvAsync(string? find, string? condition, INowSight sight, HttpContext http)
    {
        if (condition is { Length: > 0 } && !Enum.GetNames<Condition>().Contains(condition))
            return Results.Problem(title: "The address is not understood.", detail: $"condition: '{condition}' is not one of {string.Join(", ", Enum.GetNames<Condition>())}.", statusCode: StatusCodes.Status400BadRequest);
        using var watch = sight.Watch();
        var now = sight.Now;
        while (now.Fleet is null) now = await sight.AfterAsync(now.Number, http.RequestAborted);
        return Results.File(Encoding.UTF8.GetBytes(TableFile.Csv(_columns, new VehicleFilter(find ?? "", condition is { Length: > 0 } ? condition : null).Of(now.Fleet))), "text/csv; charset=utf-8", "vehicles.csv");
    }
}
