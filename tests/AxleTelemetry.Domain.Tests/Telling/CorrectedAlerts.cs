using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Telling;

namespace AxleTelemetry.Domain.Tests.Telling;

/// <summary>Late data changes the history: what was told is corrected, never told again.</summary>
public sealed class CorrectedAlerts
{
    private readonly Desk _desk = new();

    [Fact]
    public void An_episode_revised_away_is_marked_corrected_once_and_owes_nothing()
    {
        _desk.Open(0);
        var change = Assert.Single(_desk.Correct(5, 0).Changes);
        Assert.IsType<AlertCause.Corrected>(change.Cause);
        Assert.False(change.Rings);
        Assert.Equal(ClosedAs.Corrected, Assert.IsType<AlertState.Normal>(_desk.Only.State).As);
        Assert.Empty(_desk.Correct(6, 0).Changes);
    }

    [Fact]
    public void What_comes_back_after_it_was_taken_away_does_not_ring_again()
    {
        _desk.Open(0);
        _desk.Correct(5, 0);
        _desk.Correct(6, 0, Desk.InForce(0, null));
        Assert.True(_desk.Only.Holds);
        Assert.Equal(1, _desk.Told.Count(c => c.Rings));
    }

    [Theory]
    [InlineData(null)]
    [InlineData(20.0)]
    public void What_a_second_run_found_is_told_with_its_figures_and_in_full(double? ended)
    {
        var found = Desk.Episode(Desk.Drive, 10, EpisodeChange.Rose, Level.Surely, 15);
        var change = Assert.Single(_desk.Take(p => new TellingInput.Corrected(p, Desk.Min(25), Desk.Truck, Desk.Min(0), [Desk.InForce(10, ended)])
        {
            Findings = ImmutableDictionary<(FindingKey, Domain.Quantities.Moment), LaneOutput.Episode>.Empty.Add((Desk.Drive, Desk.Min(10)), found),
        }).Changes);
        Assert.Equal(found with { Change = EpisodeChange.Opened }, change.Episode);
        Assert.Equal(new AlertFigures(900, 250, 11_500), change.Figures);
        Assert.Equal(change.Figures, _desk.Only.Figures);
    }

    [Fact]
    public void Moved_times_keep_the_alert()
    {
        _desk.Open(10);
        _desk.Do(new OperatorAction.Acknowledge("Ada"), 11);
        var change = Assert.Single(_desk.Correct(20, 0, Desk.InForce(7, null)).Changes);
        Assert.IsType<AlertCause.Restated>(change.Cause);
        Assert.IsType<AlertState.Acknowledged>(_desk.Only.State);
        _desk.Close(7, 30);
        Assert.IsType<AlertState.Unstated>(_desk.Only.State);
        Assert.Equal(Desk.Min(10), _desk.Only.Id.Since);
    }

    [Fact]
    public void One_episode_in_two_parts_stays_one_alert()
    {
        _desk.Open(10);
        _desk.Correct(60, 0, Desk.InForce(10, 20), Desk.InForce(30, null));
        Assert.Equal(2, _desk.Only.Episodes.Length);
        Assert.Equal(1, _desk.Told.Count(c => c.Rings));
    }

    [Fact]
    public void Found_by_a_correction_and_long_over_it_is_listed_and_does_not_ring_and_still_obliges()
    {
        var change = Assert.Single(_desk.Correct(200, 0, Desk.InForce(10, 20)).Changes);
        Assert.False(change.Rings);
        Assert.IsType<AlertState.SuppressedByDesign>(_desk.Only.State);
        _desk.Do(new OperatorAction.Acknowledge("Ada"), 201);
        Assert.IsType<AlertState.Unstated>(_desk.Only.State);
        _desk.Do(new OperatorAction.StateDone("Ada", "spoke with the loading place"), 202);
        Assert.False(_desk.Only.State.IsOpen);
    }

    [Fact]
    public void Found_by_a_correction_and_only_likely_it_is_listed_as_over()
    {
        var change = Assert.Single(_desk.Correct(200, 0, Desk.InForce(10, 20, Level.Likely)).Changes);
        Assert.Equal(ClosedAs.OverBeforeKnown, Assert.IsType<AlertState.Normal>(change.State).As);
    }

    [Fact]
    public void Found_by_a_correction_and_holding_it_rings()
    {
        Assert.True(Assert.Single(_desk.Correct(200, 0, Desk.InForce(190, null)).Changes).Rings);
    }

    [Fact]
    public void Followers_found_by_a_correction_are_listed_in_the_leading_one()
    {
        _desk.Correct(200, 0, Desk.InForce(10, 20, key: Desk.Rear, with: Desk.Drive), Desk.InForce(10, 20));
        Assert.Equal(new AlertSubject(Desk.Drive), _desk.Only.Id.Subject);
        Assert.Equal(2, _desk.Only.Episodes.Length);
    }

    [Fact]
    public void A_live_overload_right_after_one_that_was_listed_late_rings()
    {
        _desk.Correct(200, 0, Desk.InForce(10, 160));
        _desk.Open(163);
        Assert.Equal(1, _desk.Told.Count(c => c.Rings));
    }

    [Fact]
    public void Listed_late_then_taken_away_then_holding_it_rings_as_nobody_was_called_before()
    {
        _desk.Correct(200, 0, Desk.InForce(10, 20, Level.Likely, Desk.Drift));
        _desk.Correct(201, 0);
        _desk.Correct(202, 0, Desk.InForce(10, null, Level.Likely, Desk.Drift));
        Assert.Equal(1, _desk.Told.Count(c => c.Rings));
    }

    [Fact]
    public void What_lies_before_the_corrected_stretch_is_left_alone()
    {
        _desk.Open(0);
        _desk.Close(0, 5);
        Assert.Empty(_desk.Correct(60, 30).Changes);
    }
}
