using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Telling;

/// <summary>What time alone does: shelves end, nobody acknowledged, a vehicle is silent, closed alerts are forgotten.</summary>
internal static class Passing
{
    public static VehicleAlerts Take(VehicleAlerts vehicle, VehicleName name, Pen pen)
    {
        vehicle = Promote(vehicle, name, pen);
        for (var i = 0; i < vehicle.Alerts.Length; i++)
        {
            var after = Pass(vehicle.Alerts[i], pen);
            if (!ReferenceEquals(after, vehicle.Alerts[i])) vehicle = vehicle.With(i, after);
        }

        return Forget(Silence(vehicle, name, pen), pen);
    }

    /// <summary>The vehicle was heard: a silence that was told is over.</summary>
    public static VehicleAlerts Hear(VehicleAlerts vehicle, Pen pen)
    {
        vehicle = vehicle with { Hearing = vehicle.Hearing.Hear(pen.At) };
        var index = vehicle.Index(a => a.Id.Subject == AlertSubject.VehicleSilent && a.Holds);
        if (index < 0) return vehicle;
        var episode = vehicle.Alerts[index].Episodes.Length - 1;
        var ended = vehicle.Alerts[index].Episodes[episode] with { Ended = pen.At };
        return vehicle.With(index, Course.End(vehicle.Alerts[index], episode, ended, null, pen));
    }

    private static Alert Pass(Alert alert, Pen pen)
    {
        switch (alert.State)
        {
            case AlertState.Shelved shelf when shelf.Until <= pen.At:
                return pen.Write(alert with { State = shelf.State }, new AlertCause.ShelfEnded(), rings: shelf.State is AlertState.Unacknowledged);
            case AlertState.SuppressedByDesign { Why: Suppression.MayBeOver } when alert.Holds && pen.At.SecondsSince(alert.KnownAt) >= pen.Settings.LateGrace.TotalSeconds:
                return pen.Write(alert with { State = new AlertState.Unacknowledged() }, new AlertCause.HoldsStill(), rings: true);
            case AlertState.Unacknowledged when !alert.Escalated && IsLate(alert, pen):
                return pen.Write(alert, new AlertCause.Escalated(), rings: true);
            default:
                return alert;
        }
    }

    private static bool IsLate(Alert alert, Pen pen) =>
        pen.Settings.Escalation(alert.Priority) is { } limit && pen.At.SecondsSince(alert.WaitingSince) >= limit.TotalSeconds;

    /// <summary>What waited for another that never came is told by itself: nothing is lost for want of a lead.</summary>
    private static VehicleAlerts Promote(VehicleAlerts vehicle, VehicleName name, Pen pen) => vehicle.Waiting.IsEmpty ? vehicle : vehicle.Waiting.Aggregate(
        vehicle with { Waiting = vehicle.Waiting.Clear() },
        (v, w) => Beginning.Take(v, name, new Beginning.News(w.Episode, w.Held, w.Source, null), null, pen));

    private static VehicleAlerts Silence(VehicleAlerts vehicle, VehicleName name, Pen pen)
    {
        if (vehicle.Hearing.HeardAt is not { } heard || pen.At.SecondsSince(heard) <= vehicle.Hearing.Limit(pen.Settings).TotalSeconds) return vehicle;
        if (vehicle.IndexOf(AlertSubject.VehicleSilent, heard) >= 0) return vehicle;
        vehicle = EndUnclaimed(vehicle, heard, pen);
        var silent = new ToldEpisode(AlertSubject.VehicleSilent, heard, Level.Likely, Level.Likely, MarginStanding.HouseRule, null);
        return Beginning.Take(vehicle, name, new Beginning.News(silent, pen.At, pen.Position, null), null, pen);
    }

    /// <summary>Of a trailer that is not heard any more nobody is asked who pulls it.</summary>
    private static VehicleAlerts EndUnclaimed(VehicleAlerts vehicle, Moment heard, Pen pen)
    {
        var index = vehicle.Index(a => a.Id.Subject.Finding is { Kind: FindingKind.TrailerUnclaimed } && a.Holds);
        if (index < 0) return vehicle;
        var episode = vehicle.Alerts[index].Episodes.Length - 1;
        var last = vehicle.Alerts[index].Episodes[episode];
        return vehicle.With(index, Course.End(vehicle.Alerts[index], episode, last with { Ended = heard > last.Since ? heard : last.Since }, null, pen));
    }

    private static VehicleAlerts Forget(VehicleAlerts vehicle, Pen pen)
    {
        if (vehicle.Alerts.IsEmpty) return vehicle;
        var edge = pen.At.Plus(-pen.Settings.KeepClosed.TotalSeconds);
        var closed = vehicle.Alerts.Where(a => !a.State.IsOpen).ToArray();
        var gone = closed.Where((a, i) => i < closed.Length - VehicleAlerts.MostClosed || a.State is AlertState.Normal normal && normal.At < edge).ToHashSet(ReferenceEqualityComparer.Instance);
        if (gone.Count == 0) return vehicle;
        var last = closed.Where(gone.Contains).Max(a => a.Ended) ?? edge;
        var before = last > vehicle.ForgottenBefore ? last.Plus(0.001) : vehicle.ForgottenBefore;
        return vehicle with { Alerts = vehicle.Alerts.RemoveAll(gone.Contains), ForgottenBefore = before };
    }
}
