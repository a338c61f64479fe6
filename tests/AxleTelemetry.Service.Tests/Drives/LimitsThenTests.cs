using System.Collections.Immutable;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Places;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Messages.Limits;
using AxleTelemetry.Places;
using AxleTelemetry.Service.Drives;
using AxleTelemetry.Service.Series;
using AxleTelemetry.Service.Tests.Serving;

namespace AxleTelemetry.Service.Tests.Drives;

/// <summary>Limits of the time, by place, day, lifts and permit: 11.5 t and 12 t on a driven axle in Slovenia and Italy (International Transport Forum, edition of about 2013).</summary>
public sealed class LimitsThenTests
{
    private const uint AllThree = 0b111;

    private static readonly Moment Start = new(1_772_431_200_000);
    private static readonly Place Slovenia = new(46.05, 14.50, Start), Italy = new(45.46, 11.00, Start);
    private static readonly Configuration Raised = new(Raised: 0b100);

    // Rated above what either country's law allows, so that the law is what is closest.
    private static readonly VehicleDescription Truck = RandomFleet.Scene.Vehicles[0] with { Axles = [.. RandomFleet.Scene.Vehicles[0].Axles.Select(a => a.Role == AxleRole.Drive ? a with { Rating = Mass.FromKilograms(13_000), Tyres = a.Tyres with { Capacity = Mass.FromKilograms(14_000) } } : a)] };

    [Fact]
    public void They_step_at_the_border_and_at_no_other_place()
    {
        var steps = Over([At(0, Slovenia), At(60, Slovenia), At(120, Italy), At(180, Italy), At(240, Slovenia)]);
        Assert.Equal([(0, 11_500d, "SI"), (120, 12_000d, "IT"), (240, 11_500d, "SI")], steps.Select(s => ((int)s.At.SecondsSince(Start), s.Axles[1]!.Value, s.Law)));
    }

    [Fact]
    public void There_is_none_where_no_figure_was_judged()
    {
        var steps = Over([At(0, Slovenia), At(60, Slovenia, Raised, 0b011), At(120, Slovenia, Raised, 0, gross: false), At(180, Slovenia)]);
        Assert.Equal([(true, true), (true, false), (false, false), (true, true)], steps.Select(s => (s.Axles[1] is not null, s.Axles[2] is not null)));
        Assert.Equal([true, true, false, true], steps.Select(s => s.Gross is not null));
    }

    [Fact]
    public void A_permit_takes_the_place_of_what_it_names_on_its_days()
    {
        var day = DateOnly.FromDateTime(DateTimeOffset.FromUnixTimeMilliseconds(Start.UnixMilliseconds).UtcDateTime);
        var permit = new Permit
        {
            Id = "EX-1", Authority = "an authority of this test", Vehicles = [Truck.Id], Countries = [Country.From("SI")], From = day, Until = day,
            Masses = [new PermittedMass.OfVehicle(Truck.Id) { Kilograms = 28_000 }],
        };
        var steps = Over([At(-86_400, Slovenia), At(0, Slovenia), At(86_400, Slovenia)], permit);
        Assert.Equal(["SI", "SI, permit EX-1", "SI"], steps.Select(s => s.Law));
        Assert.Equal(steps[0].Gross, steps[2].Gross);
        Assert.True(steps[1].Gross > steps[0].Gross);
    }

    [Fact]
    public void Without_a_place_those_hold_that_hold_where_no_country_is_known()
    {
        var steps = Over([At(0, null)]);
        Assert.Equal(("", 11_500d), (steps[0].Law, steps[0].Axles[1]!.Value));
    }

    private static ImmutableArray<Web.Sight.LimitsAt> Over(ImmutableArray<StoodAt> stood, params Permit[] permits)
    {
        var combination = ((CouplingResult.Coupled)Combination.Couple([Truck])).Combination;
        var book = ((LimitBookResult.Made)LimitBook.Of([.. LimitSetFile.BookNames.Select(name => ((LimitSetResult.Parsed)LimitSetFile.Shipped(name)).Set)])).Book;
        var point = LoadPoint.Of(new HistoryRow.Load(default, Start, []) { Standing = LoadStanding.Settled, Movement = Movement.Rolling, Configuration = default, Axles = [null, null, null], Gross = null, Payloads = [], Withheld = [], Place = null });
        return LimitsThen.Over(new LoadStretch([], [point], []) { Stood = stood }, new KnownLimits(combination, LaneLaw.ByPlace(combination, book, new LimitContext { Trip = TripKind.National }, CountryMap.Shipped, permits)));
    }

    private static StoodAt At(double seconds, Place? place, Configuration configuration = default, uint axles = AllThree, bool gross = true) => new(Start.Plus(seconds), configuration, place, axles, gross);
}
