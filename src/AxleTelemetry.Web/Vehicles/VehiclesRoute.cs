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

    public static TableOrder<VehicleGlance> Order { get; } = new(
    [
        new("condition", v => (v.Condition, v.Name.Id)), new("vehicle", v => v.Name.Id), new("plate", v => v.Plate), new("gross", v => v.Gross?.Mean, IsGreatestFirst: true), new("moves", v => v.HeardAt is null || v.Behind is not null ? null : v.Movement, IsGreatestFirst: true),
        new("with", v => v.Behind?.Id ?? (v.Trailers.Length > 0 ? v.Trailers : null)), new("heard", v => v.HeardAt?.UnixMilliseconds, IsGreatestFirst: true), new("where", v => v.Country.Length > 0 ? v.Country : null), new("name", v => v.CallName), new("fleet", v => v.Name.Fleet),
    ]);

    public static async Task<IResult> CsvAsync(string? find, string? condition, string? sort, INowSight sight, HttpContext http)
    {
        if (Order.Read(sort) is not { } order) return Results.Problem(title: "The address is not understood.", detail: $"sort: '{sort}' is not {Order.Right}.", statusCode: StatusCodes.Status400BadRequest);
        if (condition is { Length: > 0 } && !Enum.GetNames<Condition>().Contains(condition))
            return Results.Problem(title: "The address is not understood.", detail: $"condition: '{condition}' is not one of {string.Join(", ", Enum.GetNames<Condition>())}.", statusCode: StatusCodes.Status400BadRequest);
        using var watch = sight.Watch();
        var now = sight.Now;
        while (now.Fleet is null) now = await sight.AfterAsync(now.Number, http.RequestAborted);
        return Results.File(Encoding.UTF8.GetBytes(TableFile.Csv(_columns, Order.Of(new VehicleFilter(find ?? "", condition is { Length: > 0 } ? condition : null).Of(now.Fleet), order))), "text/csv; charset=utf-8", "vehicles.csv");
    }
}
