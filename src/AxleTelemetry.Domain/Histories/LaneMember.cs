using System.Collections.Immutable;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Histories;

/// <summary>A vehicle in a lane, with the version of what is set for it: description, calibrations, limits.</summary>
/// <param name="Vehicle">The vehicle.</param>
/// <param name="Version">Number of the version; 0 where nothing was ever set.</param>
public readonly record struct LaneMember(VehicleName Vehicle, int Version)
{
    internal static void Write(ImmutableArray<LaneMember> members, ByteWriter to)
    {
        to.Int(members.Length);
        foreach (var member in members) Write(member, to);
    }

    internal static void Write(LaneMember member, ByteWriter to)
    {
        to.Text(member.Vehicle.Fleet);
        to.Text(member.Vehicle.Id);
        to.Int(member.Version);
    }

    internal static ImmutableArray<LaneMember> Read(ref ByteReader from)
    {
        var members = ImmutableArray.CreateBuilder<LaneMember>();
        for (var count = from.Count(); count > 0; count--)
            members.Add(ReadOne(ref from));
        return members.ToImmutable();
    }

    internal static LaneMember ReadOne(ref ByteReader from) => new(new VehicleName(from.Text(), from.Text()), from.Int());
}
