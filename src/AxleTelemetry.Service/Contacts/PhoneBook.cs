using System.Collections.Immutable;
using AxleTelemetry.Messages.Contacts;

namespace AxleTelemetry.Service.Contacts;

/// <summary>
/// Whom to phone about which vehicle. Immutable. No part of the configuration that lanes run on and the journal keeps: a number is personal data, and
/// nothing that is found depends on it.
/// </summary>
internal sealed class PhoneBook
{
    private readonly ImmutableDictionary<VehicleName, Contact> _byVehicle;
    private readonly ImmutableDictionary<string, Contact> _byFleet;

    /// <summary>Puts the contacts of fleets together.</summary>
    public PhoneBook(IEnumerable<(string Fleet, ImmutableArray<Contact> Contacts)> fleets)
    {
        ImmutableArray<(string Fleet, Contact Contact)> all = [.. fleets.SelectMany(f => f.Contacts.Select(c => (f.Fleet, c)))];
        _byVehicle = all.SelectMany(c => c.Contact.Vehicles.Select(v => (Name: new VehicleName(c.Fleet, v), c.Contact))).ToImmutableDictionary(c => c.Name, c => c.Contact);
        _byFleet = all.Where(c => c.Contact.Vehicles.IsEmpty).ToImmutableDictionary(c => c.Fleet, c => c.Contact, StringComparer.Ordinal);
    }

    /// <summary>A book without numbers.</summary>
    public static PhoneBook Empty { get; } = new([]);

    /// <summary>Whom to phone about a vehicle; <c>null</c> where nobody has entered a number.</summary>
    public Contact? Of(VehicleName vehicle) => _byVehicle.GetValueOrDefault(vehicle) ?? _byFleet.GetValueOrDefault(vehicle.Fleet);

    /// <summary>True where both give the same numbers.</summary>
    public bool SameAs(PhoneBook other) => Same(_byVehicle, other._byVehicle) && Same(_byFleet, other._byFleet);

    private static bool Same<T>(ImmutableDictionary<T, Contact> one, ImmutableDictionary<T, Contact> other)
        where T : notnull => one.Count == other.Count && one.All(c => other.TryGetValue(c.Key, out var same) && c.Value with { Vehicles = [] } == same with { Vehicles = [] });
}
