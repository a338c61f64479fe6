using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Vehicles;
using static AxleTelemetry.Domain.Tests.Limits.LimitFleet;

namespace AxleTelemetry.Domain.Tests.Limits;

public sealed class LimitTextTests
{
    [Fact]
    public void Shows_name_limit_standing_and_source()
    {
        var text = LimitText.Render(Couple(Rigid("S0 D4.3 T5.65^")), new Configuration(Raised: 0b100), Directive, International);
        Assert.Equal(
            """
            Axle a1 of RG-1             at most 10 000 kg  law         Council Directive 96/53/EC, Annex I, 3.1 (edition of 2019-08-14)
            Axle a2 of RG-1             at most 11 500 kg  law         Council Directive 96/53/EC, Annex I, 3.4 (edition of 2019-08-14)
            Gross mass of RG-1          at most 18 000 kg  law         Council Directive 96/53/EC, Annex I, 2.3.1 (edition of 2019-08-14). Counted with the 2 axles on the road. Also limited: 90 000 kg (Papers of RG-1, registered mass).
            Share on the driving axles  at least 25 %      law         Council Directive 96/53/EC, Annex I, 4.1 (edition of 2019-08-14)
            Share on the steer axle     at least 20 %      house rule  Implementing Regulation (EU) 2021/535, Annex XIII, house rule from type approval (edition of 2021-03-31)
            Rating of axle a1 of RG-1   at most 20 000 kg  technical   Papers of RG-1, axle rating
            Rating of axle a2 of RG-1   at most 20 000 kg  technical   Papers of RG-1, axle rating

            """, text, ignoreLineEndingDifferences: true);
    }

    [Fact]
    public void A_part_of_a_group_is_named_by_its_axles()
    {
        var coupled = Couple(Tractor("S0 D3.7"), Semi("A6.3 A7.8 A9.3"));
        var part = Margins(coupled).Find(MarginKind.Group, 1, 2 + 3)!;
        Assert.Equal("Axles a2 + a3 of SM-1", LimitText.Name(coupled, part));
    }
}
