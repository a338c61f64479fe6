using System.Collections.Immutable;
using System.Globalization;
using AxleTelemetry.Domain.Planning;
using AxleTelemetry.Service.Inputs;

namespace AxleTelemetry.Service.Planning;

/// <summary>What a person or program asks for, numbers read, names not looked up yet.</summary>
internal sealed record PlanAsk
{
    /// <summary>Whose payload varies; <c>null</c>: the one that carries.</summary>
    public string? Of { get; init; }

    /// <summary>Stated payloads, kg; without a vehicle it is that of the one that varies.</summary>
    public ImmutableArray<(string? Vehicle, double Value)> Payloads { get; init; } = [];

    /// <summary>Their centres, m.</summary>
    public ImmutableArray<(string? Vehicle, double Value)> Centres { get; init; } = [];

    public ImmutableArray<Drop> Drops { get; init; } = [];

    /// <summary>From the first axle forward to the front corners, m; <c>null</c>: as described.</summary>
    public double? FrontOverhang { get; init; }

    /// <summary>Width of the vehicles, m; <c>null</c>: as described.</summary>
    public double? Width { get; init; }
}

/// <summary>What the parts of an ask are called where they were asked.</summary>
internal sealed record PlanFields(string Of, string Payload, string Centre, string Drop)
{
    public static PlanFields Command { get; } = new("--of", "--payload", "--centre", "--drop");

    public static PlanFields Address { get; } = new("of", "payload_kg", "centre_m", "drops");
}

/// <summary>Reads numbers with their ranges.</summary>
internal static class PlanNumbers
{
    public const double MostPayload = 100_000, Farthest = 30, MostOverhang = 3, LeastWidth = 1, MostWidth = 4;

    public static double? Read(string field, string text, (double Least, double Most) range, List<InputProblem> errors)
    {
        if (Parse(text) is { } value && value >= range.Least && value <= range.Most) return value;
        errors.Add(new(field, "", $"'{text}'", FormattableString.Invariant($"Right would be a number from {range.Least} to {range.Most}, with a point for decimals.")));
        return null;
    }

    /// <summary><c>4000@7.2</c>: so many kg, its centre at so many metres.</summary>
    public static Drop? Drop(string field, string text, List<InputProblem> errors)
    {
        var at = text.IndexOf('@', StringComparison.Ordinal);
        if (at > 0 && Parse(text[..at]) is { } kilograms and > 0 and <= MostPayload && Parse(text[(at + 1)..]) is { } metres && Math.Abs(metres) <= Farthest)
            return new Drop(kilograms, metres);
        errors.Add(new(field, "", $"'{text}'", FormattableString.Invariant($"Right would be KG@METRES, for example 4000@7.2: up to {MostPayload} kg, its centre from {-Farthest} to {Farthest} m.")));
        return null;
    }

    private static double? Parse(string text) =>
        double.TryParse(text, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var value) ? value : null;
}
