using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Service.Serving;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Service.Telling;
using AxleTelemetry.Storage.Rows;
using AxleTelemetry.Web.Sight;

namespace AxleTelemetry.Service.Sighting;

/// <summary>When alarms rang in the last hour, read on in the log of what was told.</summary>
internal sealed class AlarmTimes(Desks desks)
{
    private const double StretchSeconds = 600;
    private const int Page = 500, MostLooked = 20_000;

    private readonly Dictionary<string, Position> _read = [];
    private readonly List<(Moment At, string Fleet)> _rang = [];

    /// <summary>How many came of each fleet in each stretch of ten minutes before a moment.</summary>
    public FleetAlarms Read(Moment at)
    {
        foreach (var desk in desks.All)
        {
            if (_read.ContainsKey(desk.Name)) Forward(desk);
            else Back(desk, at);
        }

        _rang.RemoveAll(r => at.SecondsSince(r.At) >= StretchSeconds * AlarmBurden.Stretches);
        return new FleetAlarms(_rang.GroupBy(r => r.Fleet, r => r.At).ToImmutableDictionary(g => g.Key, g => Counted(g, at)));
    }

    private static AlarmBurden Counted(IEnumerable<Moment> rang, Moment at)
    {
        var counts = new int[AlarmBurden.Stretches];
        foreach (var moment in rang) counts[^(1 + Math.Clamp((int)(at.SecondsSince(moment) / StretchSeconds), 0, counts.Length - 1))]++;
        return new AlarmBurden([.. counts]);
    }

    private void Forward(ShardDesk desk)
    {
        while (true)
        {
            var from = _read[desk.Name];
            var rows = desk.Read(r => r.Told(from, Page));
            foreach (var row in rows) Take(row.Row);
            if (rows.Length > 0) _read[desk.Name] = rows[^1].Position;
            if (rows.Length < Page) return;
        }
    }

    private void Back(ShardDesk desk, Moment at)
    {
        var rows = desk.Read(r => r.ToldBefore(Position.End, MostLooked));
        _read[desk.Name] = rows.IsEmpty ? Position.Start : rows[0].Position;
        foreach (var row in rows.TakeWhile(r => at.SecondsSince(r.Row.At) < StretchSeconds * AlarmBurden.Stretches)) Take(row.Row);
    }

    private void Take(TellingRow row)
    {
        if (AlertChangeJson.Read(row.Bytes.AsSpan()) is { Rings: true } change) _rang.Add((change.At, change.Fleet));
    }
}
