using System.Collections.Immutable;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Service.Inputs;

namespace AxleTelemetry.Service.Configuring;

/// <summary>Reads a fleet's files of permits and holds them against its vehicles.</summary>
internal sealed class PermitSheets
{
    // Four vehicles with so many each are what one combination can take.
    private const int MostOfVehicle = Permit.Most / 4;

    private readonly ImmutableArray<VehicleDescription> _vehicles;
    private readonly List<InputProblem> _errors;

    private PermitSheets(ImmutableArray<VehicleDescription> vehicles, List<InputProblem> errors) => (_vehicles, _errors) = (vehicles, errors);

    /// <summary>All permits, file after file; what is wrong goes to the list.</summary>
    public static ImmutableArray<Permit> Read(ImmutableArray<SourceText> sources, ImmutableArray<VehicleDescription> vehicles, InputFiles files, List<InputProblem> errors)
    {
        ImmutableArray<(string File, Permit Permit)> read = [.. sources.SelectMany(s => files.Permits(s.Name, s.Bytes.AsMemory()).Select(p => (s.Name, p)))];
        Check(read, vehicles, errors);
        return [.. read.Select(r => r.Permit)];
    }

    /// <summary>Holds permits against vehicles; what is wrong goes to the list.</summary>
    public static void Check(ImmutableArray<(string File, Permit Permit)> permits, ImmutableArray<VehicleDescription> vehicles, List<InputProblem> errors) =>
        new PermitSheets(vehicles, errors).Check(permits);

    private void Check(ImmutableArray<(string File, Permit Permit)> permits)
    {
        foreach (var twice in permits.GroupBy(r => r.Permit.Id).Where(g => g.Count() > 1))
            Wrong(twice.Last(), "id", $"'{twice.Key}', the id of a permit in {twice.First().File} too", "Each permit of a fleet has an id of its own.");
        foreach (var one in permits) Check(one);
        foreach (var id in permits.SelectMany(r => r.Permit.Vehicles).Distinct())
        {
            ImmutableArray<(string File, Permit Permit)> own = [.. permits.Where(r => r.Permit.Vehicles.Contains(id))];
            if (own.Length > MostOfVehicle)
                Wrong(own[^1], "vehicles", $"'{id}' in {own.Length} permits", $"A vehicle has at most {MostOfVehicle}: leave out those whose days are over.");
            else if (LaneLaw.WhyNot([.. own.Select(o => o.Permit)]) is { } tooMany) Wrong(own[^1], "most_speed_kmh", $"permits of '{id}'", tooMany);
        }
    }

    private void Check((string File, Permit Permit) one)
    {
        var permit = one.Permit;
        foreach (var id in permit.Vehicles.Where(id => _vehicles.All(v => v.Id != id)))
            Wrong(one, "vehicles", $"'{id}'", $"No vehicle has that id. There are {Some(_vehicles.Select(v => v.Id))}.");
        foreach (var axle in permit.Masses.OfType<PermittedMass.OfAxles>().SelectMany(m => m.Axles)) Check(one, "limits", axle);
        foreach (var axle in permit.Lowered) Check(one, "lowered", axle);
        foreach (var mass in permit.Masses.OfType<PermittedMass.OfVehicle>().Where(m => !permit.Vehicles.Contains(m.Vehicle)))
            Wrong(one, "limits", $"gross of '{mass.Vehicle}'", $"Right is a vehicle of this permit: {string.Join(", ", permit.Vehicles)}.");
    }

    private void Check((string File, Permit Permit) one, string property, AxleName axle)
    {
        if (!one.Permit.Vehicles.Contains(axle.Vehicle)) Wrong(one, property, $"'{axle}'", $"Right is an axle of a vehicle of this permit: {string.Join(", ", one.Permit.Vehicles)}.");
        else if (_vehicles.FirstOrDefault(v => v.Id == axle.Vehicle) is { } vehicle && vehicle.Axles.All(a => a.Key != axle.Axle))
            Wrong(one, property, $"'{axle}'", $"{vehicle.Id} has no such axle. Its axles are {string.Join(", ", vehicle.Axles.Select(a => a.Key))}.");
    }

    private void Wrong((string File, Permit Permit) one, string property, string found, string right) =>
        _errors.Add(new(one.File, $"permit {one.Permit.Id}, {property}", found, right));

    private static string Some(IEnumerable<string> ids)
    {
        string[] all = [.. ids.Order(StringComparer.Ordinal)];
        return all.Length <= 10 ? string.Join(", ", all) : $"{string.Join(", ", all[..10])} and {all.Length - 10} more";
    }
}
