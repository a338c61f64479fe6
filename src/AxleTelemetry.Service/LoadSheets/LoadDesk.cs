using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Domain.Wording;
using AxleTelemetry.Service.Inputs;
using static System.FormattableString;

namespace AxleTelemetry.Service.LoadSheets;

/// <summary>From an order to a sheet: takes the load in hand, judges every lift configuration, looks for what can be done.</summary>
internal sealed class LoadDesk
{
    private const double LeastPayload = 500;

    private readonly VehicleInput _input;
    private readonly LoadOrder _order;
    private readonly LoadInHand _hand;
    private readonly ImmutableArray<int> _sensors;
    private readonly Reach _reach;

    private LoadDesk(VehicleInput input, LoadOrder order, LoadInHand hand)
    {
        (_input, _order, _hand) = (input, order, hand);
        _sensors = order.Load is LoadSource.Read read
            ? [.. read.Pressures.Select(p => p.Sensor).Where(s => LoadInHand.Carries(input.Setup, order.Present, s))] : [];
        _reach = new Reach(input.Combination, Map, _sensors);
    }

    private LaneSetup Setup => _input.Setup;

    private LoadMap Map => Setup.Model.Map(_hand.Present)!;

    /// <summary>The sheet; <c>null</c> where the configuration is not possible with this load.</summary>
    public static LoadSheet? Work(VehicleInput input, LoadOrder order) =>
        Take(input, order, order.Present) is { } hand ? new LoadDesk(input, order, hand).Sheet() : null;

    /// <summary>Why there is no sheet, and how the axles could stand with this load.</summary>
    public static InputProblem Impossible(VehicleInput input, LoadOrder order)
    {
        var words = new Sentences(input.Combination);
        (string Words, string Options)[] possible = [.. input.Setup.Table.Lifts.Select(l => l with { Modes = order.Present.Modes })
            .Where(l => order.Load is LoadSource.Stated && Take(input, order, l) is not null).Select(l => (words.Lifts(l), Options(input.Combination, l)))];
        var why = input.Setup.Model.Map(order.Present) is null ? "That leaves a support without a loaded axle." : "With this load a suspension would have to pull.";
        return new("--raised, --unloaded, --mode", "", words.Lifts(order.Present), possible.Length == 0 ? why : $"{why} Possible: {string.Join("; or ", possible.Select(p => $"{p.Words} ({p.Options})"))}.");
    }

    private static string Options(Combination combination, Configuration lifts) => lifts.Raised == 0 ? "without --raised"
        : $"--raised {string.Join(',', combination.Axles.Where(a => lifts[a.Index] == AxleState.Raised).Select(a => a.Axle.Key))}";

    private static LoadInHand? Take(VehicleInput input, LoadOrder order, Configuration configuration) => order.Load switch
    {
        LoadSource.Stated stated => LoadInHand.FromPayload(input.Setup, configuration, stated.Payloads),
        LoadSource.Read read => LoadInHand.FromPressures(input.Setup, configuration, read.Pressures),
        _ => throw new InvalidOperationException("A source of loads that nobody handles."),
    };

    private LoadSheet Sheet()
    {
        ImmutableArray<PayloadLine> payloads = [.. _input.Combination.Bodies.Where(b => b.StateIndex >= 0).Select(Payload)];
        var present = At(_order.Present);
        ImmutableArray<ConfigurationSheet> configurations = [present, .. Setup.Table.Lifts.Select(l => l with { Modes = _order.Present.Modes })
            .Where(l => l.Raised != _order.Present.Raised || _order.Present.Unloaded != 0).Select(At)];
        return new LoadSheet
        {
            Input = _input,
            Order = _order,
            Hand = _hand,
            Payloads = payloads,
            Configurations = configurations,
            Remedies = present.Rows.SelectMany(r => r.Judged).Any(j => j.Verdict.Binds && j.Verdict.Excess.Mean > 0)
                ? Setup.Remedies.Solve(_hand.Payload, _hand.Known, _order.Present) : [],
            LeastCertain = LeastCertain(present),
            Knowledge = _sensors.IsEmpty ? [] : new KnowledgeSentences(_input.Combination, Map, _sensors).All(),
            Remarks = [.. Remarks(payloads)],
        };
    }

    private ConfigurationSheet At(Configuration configuration)
    {
        if (Setup.Table.At(configuration, _hand.Payload.State) is not { } judged) return new(configuration, false, [], []);
        return new(configuration, true, new RowBuilder(Setup, _hand, _reach).Rows(judged),
            MarginTable.Unlimited(_input.Combination, configuration, LimitStack.Of(_input.Limits), _input.Trip, _input.Permits));
    }

    private PayloadLine Payload(BodyPart body)
    {
        var payload = _hand.Payload;
        var (p, n, m) = (body.StateIndex, payload.States, payload.Errors);
        var variance = payload.Covariance[p * n + p];
        foreach (var moved in payload.Sensitivity.Slice(p * m, m)) variance += moved * moved;
        var mass = payload.State[p];
        var unit = new double[n + 1];
        unit[p] = 1;
        return new PayloadLine(body, new Estimated(mass, Math.Sqrt(variance)), mass > LeastPayload ? payload.State[p + 1] / mass : null, _reach.Of(unit));
    }

    /// <summary>A payload in tonnes where kilograms are meant would look like an empty vehicle.</summary>
    private static string? OfStated(double kilograms, VehicleDescription vehicle) => kilograms switch
    {
        > 0 and < 100 => Invariant($"The payload of {vehicle.Id} was stated as {kilograms:0.###} kg: --payload takes kilograms, not tonnes."),
        _ when kilograms > vehicle.LoadSpace!.Permitted.Kilograms =>
            $"The payload of {vehicle.Id} is over the {Amount.Limit(vehicle.LoadSpace.Permitted.Kilograms)} that its vehicle file permits (permitted_kg).",
        _ => null,
    };

    private LeastCertain? LeastCertain(ConfigurationSheet present)
    {
        var row = present.Rows.Where(r => !r.IsShare && r.Judged.Any(j => j.Verdict.Binds)).MaxBy(Width);
        if (row is null || Setup.Table.At(_order.Present, _hand.Payload.State) is not { } judged) return null;
        var index = judged.Margins.IndexOf(Binding(row).Margin);
        var sources = new SourceWords(Setup, _hand.Payload, _hand.Known).Of(judged.Form(index), row.Known);
        return sources.IsEmpty ? null : new LeastCertain(row, sources);
    }

    private static Verdict Binding(LoadRow row) => row.Judged.First(j => j.Verdict.Binds).Verdict;

    private static double Width(LoadRow row) => Binding(row).Excess.Sd / Binding(row).Scale;

    private IEnumerable<string> Remarks(ImmutableArray<PayloadLine> payloads)
    {
        var names = new Names(_input.Combination);
        if (_order.Load is LoadSource.Stated stated)
            foreach (var remark in stated.Payloads.Zip(payloads, (p, line) => OfStated(p.Mass.Kilograms, line.Body.Vehicle)).OfType<string>()) yield return remark;
        if (_order.Load is not LoadSource.Read read) yield break;
        foreach (var (sensor, pressure) in read.Pressures)
        {
            if (!_sensors.Contains(sensor)) yield return $"{Names.Begin(names.Sensor(sensor))} is passed over: its axle is raised or relieved, so its pressure is no load.";
            else if (_input.Fits[sensor].IsExtrapolated(pressure.Kilopascals))
                yield return $"{Names.Begin(names.Sensor(sensor))} reads outside the range of its tickets: its load is extrapolated.";
        }

        var sentences = new Sentences(_input.Combination);
        foreach (var line in payloads)
            if (line.Mass.Mean < -3 * line.Mass.Sd || line.Mass.Mean > 1.5 * line.Body.Vehicle.LoadSpace!.Permitted.Kilograms)
                yield return sentences.Of(new FindingKey(FindingKind.PayloadImplausible, default, line.Body.Index), Level.Likely, new FindingDetail.Measured(line.Mass.Mean, "kg"));
    }
}
