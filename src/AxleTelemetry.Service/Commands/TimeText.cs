using System.Globalization;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Service.Inputs;

namespace AxleTelemetry.Service.Commands;

/// <summary>Times and vehicles as people type them for a command.</summary>
internal static class TimeText
{
    // 3/4/2026 is a day in March to one reader and in April to another.
    private static readonly string[] Times = ["yyyy-MM-dd", "yyyy-MM-dd'T'HH:mm", "yyyy-MM-dd'T'HH:mm:ss.FFFFFFF", "yyyy-MM-dd'T'HH:mm:ss.FFFFFFFzzz", "yyyy-MM-dd'T'HH:mm:ss.FFFFFFF'Z'"];

    /// <summary>A time; <c>null</c> where none was given, or it is in error.</summary>
    public static Moment? Read(string option, string? text, List<InputProblem> problems)
    {
        if (text is null) return null;
        if (DateTimeOffset.TryParseExact(text, Times, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal, out var at)) return new Moment(at.ToUnixTimeMilliseconds());
        problems.Add(new(option, "", $"'{text}'", "Right would be a day or a time, for example 2026-03-02 or 2026-03-02T06:00:00Z."));
        return null;
    }

    /// <summary>A vehicle; <c>null</c> where none was given, or it is in error.</summary>
    public static VehicleName? Vehicle(string? text, List<InputProblem> problems)
    {
        if (text is null) return null;
        if (text.Split('/') is [var fleet, var id]) return new VehicleName(fleet, id);
        problems.Add(new("--vehicle", "", $"'{text}'", "Right is FLEET/VEHICLE, for example north/TR-04."));
        return null;
    }
}
