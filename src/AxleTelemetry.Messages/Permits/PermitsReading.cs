using System.Collections.Immutable;
using System.Globalization;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Places;
using AxleTelemetry.Messages.Topics;
using AxleTelemetry.Messages.VehicleFiles;

namespace AxleTelemetry.Messages.Permits;

/// <summary>From a file whose properties were looked at one by one to permits.</summary>
internal sealed class PermitsReading(Problems problems)
{
    /// <summary>The permits without problems of their own.</summary>
    public ImmutableArray<Permit> Read(Node root)
    {
        var seen = new Dictionary<string, string>(StringComparer.Ordinal);
        var read = ImmutableArray.CreateBuilder<Permit>();
        foreach (var node in root.Parts("permits"))
        {
            if (node.Text("id") is { } id && !seen.TryAdd(id, node.Path))
                problems.Add(ProblemKind.NotUnique, node.PathOf("id"), $"'{id}'", $"{seen[id]} has this id already: each permit has its own.");
            if (Permit(node) is { } permit) read.Add(permit);
        }

        return read.ToImmutable();
    }

    private Permit? Permit(Node node)
    {
        var (from, until) = (Day(node, "from"), Day(node, "until"));
        if (until < from) problems.Add(ProblemKind.WrongOrder, node.PathOf("until"), node.Text("until")!, $"The last day is not before the first, {node.Text("from")}.");
        ImmutableArray<Country> countries = [.. node.Texts("countries").Select(Country).OfType<Country>()];
        ImmutableArray<AxleName> lowered = Axles(node, "lowered");
        ImmutableArray<PermittedMass> masses = [.. node.Parts("limits").Select(Mass).OfType<PermittedMass>()];
        if (problems.AnyErrorUnder(node.Path) || from is null || until is null) return null;
        return new Permit
        {
            Id = node.Text("id")!,
            Authority = node.Text("authority")!,
            Vehicles = [.. node.Texts("vehicles").Select(v => v.Text)],
            Countries = countries,
            From = from.Value,
            Until = until.Value,
            MostSpeed = node.Number("most_speed_kmh") / 3.6,
            Lowered = lowered,
            Obligations = [.. node.Texts("obligations").Select(o => o.Text)],
            Masses = masses,
        };
    }

    private PermittedMass? Mass(Node node)
    {
        var (axles, gross, combination) = (node.Has("axles"), node.Has("gross"), node.Has("combination"));
        if ((axles ? 1 : 0) + (gross ? 1 : 0) + (combination ? 1 : 0) != 1)
        {
            problems.Add(ProblemKind.Contradiction, node.Path, axles || gross || combination ? "more than one of them" : "none of them",
                "Right is one of 'axles' (axles that are limited together, as [\"T-1/drive\", \"T-1/tag\"]), 'gross' (a vehicle's id), 'combination' (true).");
            return null;
        }

        if (combination && node.Flag("combination") == false)
            problems.Add(ProblemKind.NotAChoice, node.PathOf("combination"), "false", "Right is true; leave it out where another limit is meant.");
        var clause = node.Text("clause") ?? "";
        if (node.Number("most_kg") is not { } kilograms) return null;
        if (combination) return new PermittedMass.OfCombination { Kilograms = kilograms, Clause = clause };
        if (gross) return node.Text("gross") is { } vehicle ? new PermittedMass.OfVehicle(vehicle) { Kilograms = kilograms, Clause = clause } : null;
        return new PermittedMass.OfAxles(Axles(node, "axles")) { Kilograms = kilograms, Clause = clause };
    }

    private ImmutableArray<AxleName> Axles(Node node, string property)
    {
        var names = ImmutableArray.CreateBuilder<AxleName>();
        foreach (var (text, path) in node.Texts(property))
        {
            var parts = text.Split('/');
            if (parts.Length != 2 || !parts.All(p => Id.IsValid(p))) problems.Add(ProblemKind.BadText, path, $"'{text}'", "Right is a vehicle's id and an axle's key with a stroke between them, as T-1/drive.");
            else if (names.Contains(new(parts[0], parts[1]))) problems.Add(ProblemKind.NotUnique, path, $"'{text}'", "An axle is named once.");
            else names.Add(new(parts[0], parts[1]));
        }

        return names.ToImmutable();
    }

    private Country? Country((string Text, string Path) country)
    {
        if (Domain.Places.Country.TryFrom(country.Text, out var read)) return read;
        problems.Add(ProblemKind.BadText, country.Path, $"'{country.Text}'", "Two letters of ISO 3166-1 are right, such as SE.");
        return null;
    }

    private DateOnly? Day(Node node, string property)
    {
        if (node.Text(property) is not { } text) return null;
        if (DateOnly.TryParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var day)) return day;
        problems.Add(ProblemKind.BadText, node.PathOf(property), $"'{text}'", "Right is a day, such as 2026-03-02.");
        return null;
    }
}
