using System.Collections.Immutable;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Vehicles;
using CsCheck;
using static AxleTelemetry.Domain.Tests.Limits.LimitFleet;

namespace AxleTelemetry.Domain.Tests.Limits;

public sealed class MarginTablePropertyTests
{
    private static readonly Gen<double> Gap = Gen.OneOf(0.95, 1.0, 1.25, 1.3, 1.31, 1.4, 1.5, 1.8, 2.1);

    private static readonly Gen<VehicleDescription> Tractors =
        Gen.Select(Gen.OneOf("D", "DT", "PD", "DD"), Gap, Gen.Bool).Select((roles, gap, air) => Tractor("S0 " + Line(roles, 3.0, gap), air: air));

    private static readonly Gen<VehicleDescription> Rigids =
        Gen.Select(Gen.OneOf("S0 ", "S0 S1.9 "), Gen.OneOf("D", "DT", "DD", "DDT"), Gap, Gen.Bool)
            .Select((front, roles, gap, twin) => Rigid(front + Line(roles, 4.6, gap), twin));

    private static readonly Gen<VehicleDescription> Semis = Gen.Select(Gen.Int[1, 4], Gap).Select((n, gap) => Semi(Line(new string('A', n), 6.3, gap)));

    private static readonly Gen<VehicleDescription> Drawbars =
        Gen.Select(Gen.Int[1, 2], Gap, Gen.Bool).Select((n, gap, centre) => centre ? CentreAxle(Line(new string('A', n), 5, gap)) : Drawbar("A2 " + Line(new string('A', n), 7, gap)));

    private static readonly Gen<Combination> Combinations = Gen.OneOf(
        Rigids.Select(r => Couple(r)), Tractors.Select(t => Couple(t)),
        Gen.Select(Tractors, Semis).Select((t, s) => Couple(t, s)), Gen.Select(Rigids, Drawbars).Select((r, d) => Couple(r, d)));

    private static readonly Gen<LimitContext> Contexts =
        Gen.Select(Gen.Enum<TripKind>(), Gen.Bool).Select((trip, intermodal) => new LimitContext { Trip = trip, Intermodal = intermodal });

    private static readonly Gen<(Combination Combination, Configuration Configuration, LimitContext Context)> Cases =
        Gen.Select(Combinations, Gen.UInt, Gen.UInt, Contexts).Select((c, raised, unloaded, context) =>
            (c, new Configuration(raised & c.Liftable, unloaded & ~raised & c.Liftable), context));

    [Fact]
    public void Keys_are_unique_and_in_order_and_weights_fit_the_rows() => Cases.Sample(c =>
    {
        var margins = MarginTable.For(c.Combination, c.Configuration, Directive, c.Context);
        for (var i = 1; i < margins.Length; i++) Assert.True(margins[i - 1].Key.CompareTo(margins[i].Key) < 0);
        Assert.All(margins, m => Assert.Equal(c.Combination.Rows, m.Weights.Length));
        Assert.All(margins, m => Assert.True(m.Source.Clause.Length > 0));
    }, iter: 2_000);

    [Fact]
    public void Every_loaded_axle_is_limited_by_law_alone_or_in_a_group() => Cases.Sample(c =>
    {
        var margins = MarginTable.For(c.Combination, c.Configuration, Directive, c.Context);
        foreach (var axle in c.Combination.Axles.Where(a => c.Configuration[a.Index] == AxleState.Loaded))
            Assert.Contains(margins, m => m.Key.Kind is MarginKind.Axle or MarginKind.Group && m.Standing == MarginStanding.Law && m.Weights[axle.Index] > 0);
    }, iter: 1_000);

    [Fact]
    public void An_undeclared_trip_is_never_judged_more_mildly_than_a_declared_one() => Cases.Sample(c =>
    {
        var undeclared = MarginTable.For(c.Combination, c.Configuration, Directive, c.Context with { Trip = TripKind.Unknown });
        foreach (var trip in new[] { TripKind.National, TripKind.International })
            foreach (var margin in MarginTable.For(c.Combination, c.Configuration, Directive, c.Context with { Trip = trip }))
            {
                var other = undeclared.Single(m => m.Key == margin.Key);
                Assert.True(other.Constant <= margin.Constant && other.Standing <= margin.Standing);
            }
    }, iter: 500);

    [Fact]
    public void Raising_axles_never_permits_more_gross() => Cases.Sample(c =>
    {
        var down = MarginTable.For(c.Combination, default, Directive, c.Context);
        var up = MarginTable.For(c.Combination, c.Configuration, Directive, c.Context);
        foreach (var margin in down.Where(m => m.Key.Kind is MarginKind.Gross or MarginKind.CombinationGross))
            Assert.True(up.Single(m => m.Key == margin.Key).Limit <= margin.Limit);
    }, iter: 2_000);

    [Fact]
    public void The_same_question_gives_the_same_text() => Cases.Sample(c =>
        Assert.Equal(LimitText.Render(c.Combination, c.Configuration, Directive, c.Context), LimitText.Render(c.Combination, c.Configuration, Directive, c.Context)), iter: 200);

    private static string Line(string roles, double first, double gap) =>
        string.Join(' ', roles.Select((role, i) => FormattableString.Invariant($"{role}{first + i * gap:0.###}{(role is 'D' && i == 0 ? "" : "^")}")));
}
