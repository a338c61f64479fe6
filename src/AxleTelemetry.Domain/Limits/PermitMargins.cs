using System.Collections.Immutable;
using System.Globalization;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Limits;

/// <summary>
/// Puts permits over the margins of law and papers. What is registered is law too, and so yields; makers' ratings and house rules do not. Where two permits
/// name one limit, the greater mass holds: each allows it.
/// </summary>
internal sealed class PermitMargins(MarginSheet sheet, Configuration configuration)
{
    public void Add(PermitsInForce permits)
    {
        foreach (var permit in permits.Void) Remark(permit, $"driven faster than {Kmh(permit.MostSpeed!.Value)} with this load");
        var held = ImmutableArray.CreateBuilder<Permit>();
        foreach (var permit in permits.InForce)
            if (MissingIn(permit) is { } missing) Remark(permit, $"it asks for {missing} on the road under load");
            else held.Add(permit);
        foreach (var (permit, mass) in held.SelectMany(p => p.Masses.Select(m => (Permit: p, Mass: m))).OrderBy(m => m.Mass.Kilograms)) Replace(permit, mass);
    }

    private AxleName? MissingIn(Permit permit)
    {
        foreach (var name in permit.Lowered)
            if (name.IndexIn(sheet.Combination) is not { } axle || configuration[axle] != AxleState.Loaded)
                return name;
        return null;
    }

    private void Replace(Permit permit, PermittedMass mass)
    {
        var keys = Named(mass);
        foreach (var key in keys) sheet.Replace(key, mass.Kilograms, permit.SourceOf(mass), Words(permit));
        // Where no law limits it, the permit does.
        if (keys.IsEmpty && Own(mass) is var (own, rows)) sheet.AtMost(own, rows, mass.Kilograms, permit.SourceOf(mass), MarginStanding.Law, Words(permit));
    }

    private void Remark(Permit permit, string why)
    {
        foreach (var key in permit.Masses.SelectMany(m => Named(m)).Distinct()) sheet.Remark(key, $"Permit {permit.Id} does not hold: {why}.");
    }

    /// <summary>The limits of law that a permit's limit stands for.</summary>
    private ImmutableArray<MarginKey> Named(PermittedMass mass) => mass switch
    {
        PermittedMass.OfVehicle vehicle => [.. sheet.OfLaw().Where(m => m.Key.Kind == MarginKind.Gross && sheet.Combination.Vehicles[m.Key.Body].Id == vehicle.Vehicle).Select(m => m.Key)],
        PermittedMass.OfCombination => [.. sheet.OfLaw().Where(m => m.Key.Kind == MarginKind.CombinationGross || m.Key.Kind == MarginKind.Bridge && Axles(m).SetEquals(OnRoad())).Select(m => m.Key)],
        PermittedMass.OfAxles axles => Indices(axles) is { } named
            ? [.. sheet.OfLaw().Where(m => m.Key.Kind is MarginKind.Axle or MarginKind.Group or MarginKind.Bridge && Axles(m).SetEquals(named)).Select(m => m.Key)]
            : [],
        _ => throw new InvalidOperationException($"A limit of a permit that nobody handles: {mass}."),
    };

    /// <summary>The key of a limit that no law has; <c>null</c> where not all of it is there.</summary>
    private (MarginKey Key, IEnumerable<int> Rows)? Own(PermittedMass mass)
    {
        switch (mass)
        {
            case PermittedMass.OfVehicle vehicle:
                foreach (var part in sheet.Combination.Bodies)
                    if (part.Vehicle.Id == vehicle.Vehicle && new RoadBody(part, configuration) is var body)
                        return (Keys.Gross(body), Keys.GrossRows(sheet.Combination, body));
                return null;
            case PermittedMass.OfCombination:
                return sheet.Combination.Bodies.Length > 1 ? (Keys.Combination, Enumerable.Range(0, sheet.Combination.Axles.Length)) : null;
            case PermittedMass.OfAxles axles:
                if (Indices(axles) is not { } named) return null;
                if (named.Count == 1) return (new MarginKey(MarginKind.Axle, sheet.Combination.Axles[named.Min].Body, named.Min), named);
                // What lies between others is no run of its own.
                return OnRoad().Count(a => a >= named.Min && a <= named.Max) == named.Count ? (MarginKey.Run(named.Min, named.Max), named) : null;
            default:
                throw new InvalidOperationException($"A limit of a permit that nobody handles: {mass}.");
        }
    }

    /// <summary>The axles named; <c>null</c> where one of them is not in the combination or bears no load: then what is left of them is no limit that the permit names.</summary>
    private SortedSet<int>? Indices(PermittedMass.OfAxles axles)
    {
        var named = new SortedSet<int>();
        foreach (var name in axles.Axles)
        {
            if (name.IndexIn(sheet.Combination) is not { } axle || configuration[axle] != AxleState.Loaded) return null;
            named.Add(axle);
        }

        return named;
    }

    private IEnumerable<int> OnRoad() => Enumerable.Range(0, sheet.Combination.Axles.Length).Where(a => configuration[a] != AxleState.Raised);

    private SortedSet<int> Axles(Margin margin) => [.. Enumerable.Range(0, sheet.Combination.Axles.Length).Where(a => margin.Weights[a] != 0)];

    private static string Words(Permit permit)
    {
        var days = string.Create(CultureInfo.InvariantCulture, $"Valid {permit.From:yyyy-MM-dd} to {permit.Until:yyyy-MM-dd}.");
        if (permit.MostSpeed is { } speed) days = Figure.Join(days, $"At most {Kmh(speed)}.");
        return permit.Obligations.IsEmpty ? days : Figure.Join(days, $"It also asks, and nobody checks here: {string.Join("; ", permit.Obligations)}.");
    }

    private static string Kmh(double speed) => string.Create(CultureInfo.InvariantCulture, $"{speed * 3.6:0.#} km/h");
}

/// <summary>The permits that hold in one place on one day.</summary>
/// <param name="InForce">Those that hold, as far as axles meet their conditions.</param>
/// <param name="Void">Those that would hold, had they not been broken by speed.</param>
public sealed record PermitsInForce(ImmutableArray<Permit> InForce, ImmutableArray<Permit> Void)
{
    /// <summary>No permit.</summary>
    public static PermitsInForce None { get; } = new([], []);
}
