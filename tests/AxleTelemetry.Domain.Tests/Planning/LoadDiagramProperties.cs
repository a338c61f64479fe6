using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Planning;
using AxleTelemetry.Domain.Tests.Limits;
using AxleTelemetry.Domain.Tests.Statics;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Simulator.Chance;
using AxleTelemetry.Simulator.Statics;

namespace AxleTelemetry.Domain.Tests.Planning;

/// <summary>The diagram's curves against the independent solve and the margin table, payload by payload and place by place, for drawn combinations.</summary>
public sealed class LoadDiagramProperties(ITestOutputHelper output)
{
    private const ulong First = 5000;
    private const int Scenes = 120, Places = 41, Payloads = 60;

    // Beside a bound rounding decides.
    private const double Beside = 2;

    [Fact]
    public void Every_payload_at_every_place_is_permitted_as_direct_statics_say()
    {
        long permitted = 0, refused = 0, shut = 0, held = 0;
        for (var seed = First; seed < First + Scenes; seed++)
        {
            var scene = new Scene(seed);
            if (!scene.WellConditioned(scene.Configuration)) continue;
            foreach (var body in scene.Combination.Bodies.Where(b => b.StateIndex >= 0))
            {
                var bench = new DiagramBench(scene, body);
                foreach (var (x, p) in bench.Grid(Places, Payloads))
                {
                    if (bench.IsBeside(x, p, Beside)) continue;
                    var (drawn, direct) = (bench.Drawn(x, p), bench.Direct(x, p));
                    Assert.True(drawn == direct.Permitted, $"seed {seed}, {body.Vehicle.Kind}, {p:0} kg at {x:0.000} m: drawn {drawn}, direct {direct}");
                    if (direct.Permitted) permitted++;
                    else refused++;
                    if (direct.Held) held++;
                    if (bench.Diagram.At(x) is DiagramStretch.Shut) shut++;
                }
            }
        }

        output.WriteLine($"permitted {permitted}, refused {refused}, of these where nothing is {shut}, with a valve at its ceiling {held}");
        Assert.True(permitted > 20_000 && refused > 20_000 && shut > 1_000 && held > 1_000);
    }

    [Fact]
    public void On_the_curve_the_named_limit_is_met_and_no_other_is_passed()
    {
        var met = new HashSet<string>();
        for (var seed = First; seed < First + Scenes; seed++)
        {
            var scene = new Scene(seed);
            if (!scene.WellConditioned(scene.Configuration)) continue;
            foreach (var body in scene.Combination.Bodies.Where(b => b.StateIndex >= 0))
            {
                var bench = new DiagramBench(scene, body);
                foreach (var stretch in bench.Diagram.Binding.OfType<DiagramStretch.Open>())
                {
                    var x = (stretch.From + stretch.To) / 2;
                    if (stretch.To - stretch.From < 1e-4 || stretch.Most.Limit is not PlanLimit.Of limit) continue;
                    Assert.Equal(0, bench.Excess(limit.Margin.Key, x, stretch.Most.At(x)), 0.5);
                    met.Add(limit.Margin.Key.Kind.ToString());
                    if (stretch.Least?.Limit is not PlanLimit.Of least) continue;
                    Assert.Equal(0, bench.Excess(least.Margin.Key, x, stretch.Least.At(x)), 0.5);
                    met.Add(least.Margin.Key.Kind.ToString());
                }
            }
        }

        output.WriteLine(string.Join(", ", met));
        Assert.True(met.Count >= 5);
    }

    [Fact]
    public void Stretches_cover_the_load_space_and_meet_at_equal_payloads()
    {
        for (var seed = First; seed < First + Scenes; seed++)
        {
            var scene = new Scene(seed);
            foreach (var body in scene.Combination.Bodies.Where(b => b.StateIndex >= 0))
            {
                var diagram = new DiagramBench(scene, body).Diagram;
                Assert.Equal(body.Vehicle.LoadSpace!.Front.Metres, diagram.Binding[0].From);
                Assert.Equal(body.Vehicle.LoadSpace.Rear.Metres, diagram.Binding[^1].To);
                for (var i = 1; i < diagram.Binding.Length; i++)
                {
                    Assert.Equal(diagram.Binding[i - 1].To, diagram.Binding[i].From);
                    if ((diagram.Binding[i - 1], diagram.Binding[i]) is (DiagramStretch.Open a, DiagramStretch.Open b) && a.To - a.From > 1e-4 && b.To - b.From > 1e-4)
                        Assert.Equal(a.Most.At(a.To), b.Most.At(a.To), 1e-3 * Math.Max(1, Math.Abs(a.Most.At(a.To))));
                }
            }
        }
    }
}

/// <summary>The diagram of one drawn body, and the same question put to the independent solve.</summary>
internal sealed class DiagramBench
{
    private readonly Scene _scene;
    private readonly BodyPart _body;
    private readonly Configuration _configuration;
    private readonly JudgeTable _table;

    public DiagramBench(Scene scene, BodyPart body)
    {
        (_scene, _body) = (scene, body);
        _configuration = scene.Configuration with { AtCeiling = 0 };
        _table = new JudgeTable(scene.Model, c => LimitFleet.Margins(scene.Combination, c));
        Diagram = LoadDiagram.Of(_table, _configuration, body, scene.State);
    }

    public LoadDiagram Diagram { get; }

    public IEnumerable<(double X, double P)> Grid(int places, int payloads)
    {
        var space = _body.Vehicle.LoadSpace!;
        for (var i = 0; i < places; i++)
            for (var k = 0; k < payloads; k++)
                yield return (space.Front.Metres + (space.Rear.Metres - space.Front.Metres) * i / (places - 1), 1.6 * space.Permitted.Kilograms * k / payloads);
    }

    public bool Drawn(double x, double p) =>
        Diagram.At(x) is DiagramStretch.Open open && p <= open.Most.At(x) && p >= (open.Least?.At(x) ?? 0);

    /// <summary>True within so many kg of any bound, and where two stretches meet.</summary>
    public bool IsBeside(double x, double p, double kilograms)
    {
        if (Diagram.Binding.Any(s => Math.Abs(s.From - x) < 1e-6 && s != Diagram.Binding[0])) return true;
        return Diagram.At(x) switch
        {
            DiagramStretch.Open open => Math.Abs(p - open.Most.At(x)) < kilograms || open.Least is { } least && Math.Abs(p - least.At(x)) < kilograms,
            DiagramStretch.Shut shut => Math.Abs(p - shut.Passed.At(x)) < kilograms,
            _ => throw new InvalidOperationException("A stretch that nobody handles."),
        };
    }

    public (bool Permitted, bool Held, string Why) Direct(double x, double p)
    {
        if (DenseStatics.Settle(_scene.Truth, _configuration, State(x, p), default) is not StaticsResult.Stands stands) return (false, false, "cannot stand");
        var held = stands.Loads.Configuration.AtCeiling != 0;
        var worst = Margins(stands.Loads.Configuration).MaxBy(m => Excess(m, stands.Loads))!;
        return (Excess(worst, stands.Loads) <= 0, held, $"{worst.Key} {Excess(worst, stands.Loads):0.0}");
    }

    public double Excess(MarginKey key, double x, double p)
    {
        var stands = Assert.IsType<StaticsResult.Stands>(DenseStatics.Settle(_scene.Truth, _configuration, State(x, p * (1 - 1e-9)), default));
        return Excess(LimitFleet.Margins(_scene.Combination, stands.Loads.Configuration).First(m => m.Key == key), stands.Loads);
    }

    private IEnumerable<Margin> Margins(Configuration configuration) =>
        LimitFleet.Margins(_scene.Combination, configuration).Where(m => m.Standing != MarginStanding.HouseRule);

    private double Excess(Margin margin, TrueLoads loads) =>
        margin.Weights.Select((w, i) => w == 0 ? 0 : w * loads.Row(i)).Sum() - margin.Constant;

    private double[] State(double x, double p)
    {
        var state = (double[])_scene.State.Clone();
        (state[_body.StateIndex], state[_body.StateIndex + 1]) = (p, p * x);
        return state;
    }
}
