using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Telling;

/// <summary>What a lane says of its episodes as it goes on.</summary>
internal static class Course
{
    public static VehicleAlerts Take(VehicleAlerts vehicle, VehicleName name, LaneOutput.Episode said, Pen pen)
    {
        var subject = new AlertSubject(said.Key);
        var index = vehicle.IndexOf(subject, said.Since);
        if (index >= 0) return vehicle.With(index, Move(vehicle.Alerts[index], said, pen));
        return said.Change switch
        {
            EpisodeChange.Opened or EpisodeChange.Rose => Begin(vehicle, name, said, pen),
            // It was never told: then neither is its end.
            EpisodeChange.Closed => vehicle with { Waiting = vehicle.Waiting.RemoveAll(w => w.Episode.Is(subject, said.Since)) },
            EpisodeChange.Fell or EpisodeChange.None => vehicle,
            _ => throw new ArgumentOutOfRangeException(nameof(said), said.Change, "Unknown change."),
        };
    }

    /// <summary>Ends an episode of an alert.</summary>
    public static Alert End(Alert alert, int episode, ToldEpisode ended, LaneOutput.Episode? said, Pen pen)
    {
        var suppressed = alert.State as AlertState.SuppressedByDesign;
        var after = Settling.Settle(alert with { Episodes = alert.Episodes.SetItem(episode, ended) }, pen.At);
        if (after.Holds) return pen.Write(after, new AlertCause.Eased(ended.Subject), episode: said);
        if (suppressed is { Why: Suppression.MayBeOver }) return pen.Write(OverBeforeKnown(after, pen.At), new AlertCause.ListedLate(), episode: said);
        return pen.Write(after, new AlertCause.Returned(), episode: said);
    }

    /// <summary>An alert of what is over: somebody still has to say what was done where that is owed; otherwise it is only listed.</summary>
    public static Alert OverBeforeKnown(Alert alert, Moment at) => alert with
    {
        State = alert.Owes
            ? new AlertState.SuppressedByDesign(Suppression.OverBeforeKnown, new AlertState.ReturnedUnacknowledged(at))
            : new AlertState.Normal(ClosedAs.OverBeforeKnown, at),
    };

    private static VehicleAlerts Begin(VehicleAlerts vehicle, VehicleName name, LaneOutput.Episode said, Pen pen)
    {
        var told = Figures.Told(said);
        if (AlertPolicy.PriorityOf(told.Subject, told.Standing, told.Level) is null) return vehicle;
        AlertSubject? lead = said.ToldWith is { } key ? new AlertSubject(key) : null;
        return Beginning.Take(vehicle, name, new Beginning.News(told, said.At, pen.Position, said), lead, pen);
    }

    private static Alert Move(Alert alert, LaneOutput.Episode said, Pen pen)
    {
        var index = alert.IndexOf(new AlertSubject(said.Key), said.Since);
        var before = alert.Episodes[index];
        if (before.Void) return said.Change == EpisodeChange.Closed ? alert : Revive(alert, index, said, pen);
        if (!before.Holds) return alert;
        var now = Figures.Moved(before, said);
        if (now == before) return alert;
        alert = alert with { Source = pen.Position, Figures = Figures.Of(said) ?? alert.Figures };
        if (said.Change == EpisodeChange.Closed) return End(alert, index, now, said, pen);
        var moved = Settling.Settle(alert with { Episodes = alert.Episodes.SetItem(index, now) }, pen.At);
        AlertCause cause = now.Level >= before.Level ? new AlertCause.Rose() : new AlertCause.Fell();
        // Told with another means: the other one rings.
        return said.ToldWith is null ? Rising.Write(moved, cause, said, pen) : pen.Write(moved, cause, episode: said);
    }

    /// <summary>A correction had taken it away, and here it is again: it was told once.</summary>
    private static Alert Revive(Alert alert, int index, LaneOutput.Episode said, Pen pen)
    {
        var back = Figures.Told(said) with { Stated = alert.Episodes[index].Stated };
        var revived = Settling.Settle(alert with { Episodes = alert.Episodes.SetItem(index, back), Source = pen.Position }, pen.At);
        return Rising.Write(revived, new AlertCause.Restated(), said, pen);
    }
}
