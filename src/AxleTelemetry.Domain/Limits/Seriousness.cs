using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Domain.Limits;

/// <summary>
/// The band an excess would fall in by Regulation (EU) 2016/403, Annex I, group 4. Never a finding of an authority: only an
/// authority finds, and it weighs for itself.
/// </summary>
/// <param name="Band">The band.</param>
/// <param name="IsHouseRule">True for an axle or a group: the Regulation has bands for gross mass only, and the same ones are applied by this house.</param>
public sealed record Seriousness(OverweightBand Band, bool IsHouseRule)
{
    private static readonly double[] N3 = [5, 10, 20];
    private static readonly double[] N2 = [5, 15, 25];

    /// <summary>Band of a gross mass over its limit. <paramref name="technicallyPermissible"/> is that of the powered unit and tells N2 (up to 12 t) from N3.</summary>
    public static Seriousness OfGross(Mass load, Mass limit, Mass technicallyPermissible) =>
        new(BandOf(load, limit, technicallyPermissible), IsHouseRule: false);

    /// <summary>Band of an axle or group over its limit: the gross bands, as a house rule.</summary>
    public static Seriousness OfAxle(Mass load, Mass limit, Mass technicallyPermissible) =>
        new(BandOf(load, limit, technicallyPermissible), IsHouseRule: true);

    /// <summary>For people, always as what it is.</summary>
    public string Text
    {
        get
        {
            var band = Band switch
            {
                OverweightBand.None => "no band",
                OverweightBand.Serious => "serious",
                OverweightBand.VerySerious => "very serious",
                OverweightBand.MostSerious => "most serious",
                _ => throw new InvalidOperationException($"Unknown band {Band}."),
            };
            return IsHouseRule
                ? $"band it would fall in: {band} (house rule, gross bands of (EU) 2016/403 applied to axles)"
                : $"band it would fall in: {band} ((EU) 2016/403, Annex I, group 4)";
        }
    }

    private static OverweightBand BandOf(Mass load, Mass limit, Mass technicallyPermissible)
    {
        // Below 3.5 t a vehicle is N1, for which the Regulation has no band.
        if (limit.Kilograms <= 0 || technicallyPermissible.Kilograms <= 3_500) return OverweightBand.None;
        var from = technicallyPermissible.Kilograms > 12_000 ? N3 : N2;
        // Compared as products, so that 18 900 on 18 000 is 5 % exactly.
        var excess = (load - limit).Kilograms * 100;
        var passed = from.Count(percent => excess >= percent * limit.Kilograms);
        return (OverweightBand)passed;
    }
}

/// <summary>Bands of excess.</summary>
public enum OverweightBand
{
    /// <summary>Below the first band, or not over at all.</summary>
    None,

    /// <summary>Serious.</summary>
    Serious,

    /// <summary>Very serious.</summary>
    VerySerious,

    /// <summary>Most serious.</summary>
    MostSerious,
}
