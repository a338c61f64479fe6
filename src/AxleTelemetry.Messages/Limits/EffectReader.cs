using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Messages.Limits;

/// <summary>Reads what a rule does with its figure: exactly one of the keys.</summary>
internal static class EffectReader
{
    private const double LeastMass = 100, MostMass = 500_000, MostPerMetre = 50_000;

    private static readonly Dictionary<string, DriveEnergyKind> Energies = new()
    {
        ["alternative-fuel"] = DriveEnergyKind.AlternativeFuel,
        ["zero-emission"] = DriveEnergyKind.ZeroEmission,
    };

    public static RuleEffect Read(JsonPlace place, bool perMetre = false)
    {
        var most = Mass(place, "kg");
        var cap = Mass(place, "cap_kg");
        var each = perMetre ? place.Number("cap_kg_per_m", LeastMass, MostPerMetre, required: false) : null;
        var add = Mass(place, "add_up_to_kg");
        var energy = place.Word("energy", Energies, required: place.Has("add_up_to_kg"));
        string[] allowed = perMetre ? ["kg", "cap_kg", "cap_kg_per_m", "add_up_to_kg"] : ["kg", "cap_kg", "add_up_to_kg"];
        string[] given = [.. allowed.Where(place.Has)];
        if (given.Length == 0) place.Wrong("kg", "one of " + string.Join(", ", allowed));
        foreach (var extra in given.Skip(1)) place.Wrong(extra, $"only one of {string.Join(", ", allowed)}; {given[0]} is given already");
        if (energy is not null && !place.Has("add_up_to_kg")) place.Wrong("energy", "nothing, or add_up_to_kg beside it");

        if (each is { } perEach) return new RuleEffect.CapPerMetre(perEach);
        if (add is { } upTo) return new RuleEffect.Add(upTo, energy ?? default);
        if (cap is { } never) return new RuleEffect.Cap(never);
        return new RuleEffect.Permit(most ?? default);
    }

    private static Mass? Mass(JsonPlace place, string key) =>
        place.Number(key, LeastMass, MostMass, required: false) is { } kilograms ? Domain.Quantities.Mass.FromKilograms(kilograms) : null;
}
