using System.Collections.Immutable;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Service.Configuring;

namespace AxleTelemetry.Service.Sharding;

/// <summary>
/// Numbers what is set for a vehicle through time: the number of the configuration, and within it the stretch in which its
/// calibrations stay the same. So versions are a function of the configurations and their places in the log.
/// </summary>
internal static class VehicleVersions
{
    // Ages are stepped each month; a configuration that nobody touches for four years stops ageing.
    private const int Stretches = 4096, MonthsAhead = 48;

    /// <summary>Number of the configuration of a version; the first where nothing was ever set.</summary>
    public static int Configuration(int version) => Math.Max(1, version / Stretches);

    /// <summary>The versions of a vehicle that a configuration of a log brings.</summary>
    public static IEnumerable<SettingsVersion> Brought(VehicleName vehicle, ConfigurationLog.Entry entry, ConfigurationLog log)
    {
        if (entry.Find(vehicle) is null || entry.Configuration.Find(vehicle.Fleet) is not { } fleet) return [];
        var starts = Starts(fleet, vehicle.Id, entry.From);
        // What was described before, if only once, keeps what held then.
        if (log.Before(entry) is not { } before || before.Find(vehicle) is null || before.Configuration.Find(vehicle.Fleet) is not { } then)
            return Numbered(vehicle, entry.Number, starts, log.IsKnownBefore(entry, vehicle) ? entry.From : FleetHistory.Beginning, Earlier(vehicle, entry, log));
        var old = Starts(then, vehicle.Id, before.From);
        var from = SameButTickets(then, fleet, vehicle.Id) ? FirstChange(then, fleet, vehicle.Id) : entry.From;
        if (from is not { } since) return Extended(vehicle, entry.Number, starts, old);
        // Before the description or the limits were what they are, other ones held: new tickets do not bring these into that time.
        var alike = AlikeFrom(vehicle, entry, log);
        return Numbered(vehicle, entry.Number, [.. starts.Union(old).Order()], since < alike ? alike : since, Earlier(vehicle, entry, log));
    }

    /// <summary>The moment whose age counts for a version's calibrations.</summary>
    public static Moment AgedAt(int version, VehicleName vehicle, ConfigurationLog log)
    {
        var entry = log.Number(Configuration(version));
        var stretch = version % Stretches;
        if (stretch == 0 || entry.Configuration.Find(vehicle.Fleet) is not { } fleet) return new Moment(0);
        var starts = Starts(fleet, vehicle.Id, entry.From);
        if (log.Before(entry)?.Configuration.Find(vehicle.Fleet) is { } then)
            starts = [.. starts.Union(Starts(then, vehicle.Id, log.Before(entry)!.From)).Order()];
        return starts[Math.Min(stretch, starts.Length) - 1];
    }

    /// <summary>Moments at which calibrations of a vehicle begin or grow older: each weighing, then each first of a month.</summary>
    private static ImmutableArray<Moment> Starts(ConfiguredFleet fleet, string id, Moment from)
    {
        ImmutableArray<Moment> weighings = [.. fleet.Histories.Where(h => h.Circuit.Vehicle == id).SelectMany(h => h.Versions).Select(v => v.ValidFrom).Distinct().Order()];
        if (weighings.IsEmpty) return [];
        var last = DateTimeOffset.FromUnixTimeMilliseconds(Math.Max(weighings[^1].UnixMilliseconds, from.UnixMilliseconds)).AddMonths(MonthsAhead);
        var first = DateTimeOffset.FromUnixTimeMilliseconds(weighings[0].UnixMilliseconds);
        var months = new List<Moment>();
        for (var month = new DateTimeOffset(first.Year, first.Month, 1, 0, 0, 0, TimeSpan.Zero).AddMonths(1); month < last; month = month.AddMonths(1))
            months.Add(Codes.At(month));
        return [.. weighings.Union(months).Order()];
    }

    // Also at the moments at which earlier configurations began anything: what they said of the time after them must not come back.
    private static IEnumerable<SettingsVersion> Numbered(VehicleName vehicle, int number, ImmutableArray<Moment> starts, Moment since, IEnumerable<Moment> earlier) =>
        starts.Concat(earlier).Where(m => m > since).Distinct().Order().Prepend(since)
            .Select(m => new SettingsVersion(vehicle, m, number * Stretches + starts.Count(s => s <= m)));

    private static IEnumerable<Moment> Earlier(VehicleName vehicle, ConfigurationLog.Entry entry, ConfigurationLog log)
    {
        for (var e = log.Before(entry); e is not null; e = log.Before(e))
            if (e.Find(vehicle) is not null && e.Configuration.Find(vehicle.Fleet) is { } fleet)
                foreach (var start in Starts(fleet, vehicle.Id, e.From))
                    yield return start;
    }

    /// <summary>From when on a vehicle was described and limited as a configuration does it.</summary>
    private static Moment AlikeFrom(VehicleName vehicle, ConfigurationLog.Entry entry, ConfigurationLog log)
    {
        for (var before = log.Before(entry); before is not null; (entry, before) = (before, log.Before(before)))
        {
            if (before.Find(vehicle) is null) return log.IsKnownBefore(before, vehicle) ? entry.From : FleetHistory.Beginning;
            if (!SameButTickets(before.Configuration.Find(vehicle.Fleet)!, entry.Configuration.Find(vehicle.Fleet)!, vehicle.Id)) return entry.From;
        }

        return FleetHistory.Beginning;
    }

    private static IEnumerable<SettingsVersion> Extended(VehicleName vehicle, int number, ImmutableArray<Moment> starts, ImmutableArray<Moment> old) =>
        old.IsEmpty ? [] : starts.Where(s => s > old[^1]).Select(s => new SettingsVersion(vehicle, s, number * Stretches + starts.IndexOf(s) + 1));

    /// <summary>True where description, limits and trip are the same, text for text.</summary>
    private static bool SameButTickets(ConfiguredFleet then, ConfiguredFleet now, string id) =>
        then.Trip == now.Trip && then.LimitTexts.Length == now.LimitTexts.Length && then.LimitTexts.Zip(now.LimitTexts).All(t => t.First.SameBytes(t.Second)) && then.AssumptionsText.SameBytes(now.AssumptionsText) && Text(then, id).SameBytes(Text(now, id));

    private static SourceText Text(ConfiguredFleet fleet, string id) => fleet.Vehicles.First(v => v.Description.Id == id).Source;

    /// <summary>The first weighing from which on calibrations differ; <c>null</c> for none.</summary>
    private static Moment? FirstChange(ConfiguredFleet then, ConfiguredFleet now, string id)
    {
        Moment? first = null;
        foreach (var circuit in then.Histories.Concat(now.Histories).Select(h => h.Circuit).Where(c => c.Vehicle == id).Distinct())
        {
            var (a, b) = (then.History(circuit).Versions, now.History(circuit).Versions);
            var same = 0;
            while (same < a.Length && same < b.Length && a[same].ValidFrom == b[same].ValidFrom && a[same].Tickets.SequenceEqual(b[same].Tickets)) same++;
            if (same < a.Length) first = Earlier(first, a[same].ValidFrom);
            if (same < b.Length) first = Earlier(first, b[same].ValidFrom);
        }

        return first;
    }

    private static Moment Earlier(Moment? a, Moment b) => a is { } known && known < b ? known : b;
}
