using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Planning;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Domain.Wording;
using AxleTelemetry.Service.Drives;
using AxleTelemetry.Service.Inspecting;
using AxleTelemetry.Service.LoadSheets;
using AxleTelemetry.Service.Overview;
using AxleTelemetry.Service.Planning;
using AxleTelemetry.Service.Serving;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Service.Watching;
using AxleTelemetry.Storage.Reading;
using AxleTelemetry.Storage.Rows;
using AxleTelemetry.Web.Sight;
using LaneMember = AxleTelemetry.Domain.Histories.LaneMember;

namespace AxleTelemetry.Service.Sighting;

/// <summary>One vehicle for its page: asked of the shard in one go, worked out on the asker's thread.</summary>
internal sealed class VehicleSight(Desks desks, CombinationShelf shelf, TimeProvider clock) : IVehicleSight
{
    private const int Points = 900;

    public async Task<VehiclePicture?> VehicleAsync(VehicleName vehicle, CancellationToken cancel)
    {
        if (desks.Find(vehicle.Fleet) is not { } desk) return null;
        var now = clock.Now();
        var (state, plan, alerts) = await desk.AskAsync(s => (s.Find(vehicle), LivePlan.Of(s, vehicle, now), s.Alerts), cancel);
        if (state is null) return null;
        var picture = new VehiclePicture(now, FleetSweep.Glance(state, now), state.View)
        {
            Worth = state.View is { } view ? UnitText.Worth(view) : "",
            Open = [.. VehicleWriting.Of(state).Findings.Select(f => new OpenNow(f.Since, f.Sentence))],
            Telephone = desks.Phones().Of(vehicle) is { } contact ? new Telephone(contact.Telephone, contact.Whose, contact.Language) : null,
            Alerts = await Task.Run(() => AlertLines.Of(desks, alerts, state), cancel),
            IsDescribed = state.IsDescribed,
            NotCoupled = state.NotCoupled,
            StoppedBy = state.StoppedBy,
            CorrectedFrom = state.CorrectedFrom,
        };
        return plan is LivePlan.Ready { Basis: var basis } ? With(picture, basis) : picture;
    }

    public async Task<Timeline> TimelineAsync(VehicleName vehicle, Moment from, Moment to, CancellationToken cancel)
    {
        if (desks.Find(vehicle.Fleet) is not { } desk) return new Timeline(from, to, [], []);
        var stretches = await Task.Run(() => LoadReduction.Reduce(HistoryReading.Loads(desk, vehicle, (from, to)), from, to, Points), cancel);
        var lines = ImmutableArray.CreateBuilder<LoadLine>();
        var margins = new List<(ImmutableArray<LaneMember> Members, KnownMargins? Margins)>();
        foreach (var stretch in stretches)
        {
            margins.Add((stretch.Members, await shelf.MarginsAsync(desk, stretch.Members, cancel)));
            lines.Add(Line(StretchDocument.Of(stretch, await shelf.OfAsync(desk, stretch.Members, cancel)), stretch) with { Limits = await shelf.LimitsAsync(desk, stretch.Members, cancel) is { } limits ? LimitsThen.Over(stretch, limits) : [] });
        }

        var spare = await Task.Run(() => SpareThen.Over(HistoryReading.Loads(desk, vehicle, (from, to)), members => margins.FirstOrDefault(m => m.Members.AsSpan().SequenceEqual(members.AsSpan())).Margins, (from, to), Points), cancel);
        var readings = new StoredReadings(await desk.AskAsync(s => s.Log.Copy(), cancel));
        var speed = await Task.Run(() => new SpeedReading(desk, readings).Read(vehicle, (from, to), Points), cancel);
        var episodes = await new EpisodeLines(desks, shelf).ReadAsync(new EpisodeQuery { Vehicle = vehicle, From = from, To = to }, cancel);
        return new Timeline(from, to, lines.ToImmutable(), [.. episodes.Lines.OrderBy(l => l.Since)]) { Spare = spare, Speed = speed };
    }

    public Task<ImmutableArray<MessageLine>> MessagesAsync(VehicleName vehicle, Moment at, int seconds, CancellationToken cancel) => Task.Run<ImmutableArray<MessageLine>>(() =>
        desks.Find(vehicle.Fleet) is not { } desk ? [] : [.. MessageRoutes.Messages(desk, vehicle, new SampleSpan(at.Plus(-seconds), at.Plus(seconds))).Select(Line)], cancel);

    private static VehiclePicture With(VehiclePicture picture, PlanBasis basis)
    {
        if (basis.Live is not { } live) return picture with { Limits = basis.Limits };
        var plan = LoadPlan.Of(basis.Setup, live.Payload, live.Known, live.Present);
        return picture with
        {
            Limits = basis.Limits,
            Open = Reworded(picture, plan, live.Present),
            Payloads = [.. basis.Setup.Combination.Bodies.Where(b => b.StateIndex >= 0).Select(b => Aboard(live.Payload, b))],
            Plan = plan,
            Costs = DrivenCost.Of(plan, basis.Setup, (live.Payload, live.Known), live.Present, basis.Assumptions),
            CostSpeed = basis.Assumptions.Rules.RoadSpeed,
            Remedy = picture.Glance.Condition is Condition.Over or Condition.LikelyOver ? Remedy(basis.Setup, live) : null,
            Currency = basis.Assumptions.Currency,
            AxleSources = Sources(basis, live, out var gross),
            GrossSources = gross,
        };
    }

    /// <summary>What is open with the figures of now, where they still are beyond the limit: of axles and gross the lane tells them, of the others their limits must be judged.</summary>
    private static ImmutableArray<OpenNow> Reworded(VehiclePicture picture, LoadPlan plan, in Configuration present)
    {
        var (view, raised) = (picture.View!, present.Raised);
        var sentences = new Sentences(view.Combination);
        var verdicts = (plan.Configurations.FirstOrDefault(c => c.Configuration.Raised == raised)?.Verdicts ?? []).Where(v => v.Excess.Mean > 0).ToLookup(v => v.Margin.Key);
        return [.. picture.Open.Zip(view.Open, (said, found) => found.Key.Kind == FindingKind.Overload && verdicts[found.Key.Margin].Any() ? said with { Sentence = sentences.Over(verdicts[found.Key.Margin].First(), found.Level) } : said)];
    }

    private static string? Remedy(LaneSetup setup, LivePayload live) =>
        setup.Remedies.Solve(live.Payload, live.Known, live.Present) is [var best, ..] ? new Sentences(setup.Combination).Of(best, live.Present) : null;

    private static PayloadAboard Aboard(PayloadEstimate payload, BodyPart body)
    {
        const double LeastPayload = 500;
        var spread = PayloadSpread.Of(payload, body);
        var load = new Estimated(Math.Max(0, spread.Kilograms), Math.Sqrt(spread.MassVariance));
        if (spread.Kilograms < LeastPayload) return new(body, load, null, 0);
        // Spread of a quotient, to first order.
        var centre = spread.Moment / spread.Kilograms;
        var variance = (spread.MomentVariance - 2 * centre * spread.Covariance + centre * centre * spread.MassVariance) / (spread.Kilograms * spread.Kilograms);
        return new(body, load, centre, Estimated.Z95 * Math.Sqrt(Math.Max(0, variance)));
    }

    private static ImmutableArray<ImmutableArray<UncertaintyPart>> Sources(PlanBasis basis, LivePayload live, out ImmutableArray<UncertaintyPart> gross)
    {
        gross = [];
        var setup = basis.Setup;
        if (setup.Table.At(live.Present, live.Payload.State) is not { } judged) return [];
        var words = new SourceWords(setup, live.Payload, live.Known);
        var carrying = setup.Combination.Sensors.Where(s => s.Axles.Any(a => judged.Map.Configuration[a] == AxleState.Loaded)).Select(s => s.Index);
        var reach = new Reach(setup.Combination, judged.Map, [.. carrying]);
        gross = Parts(words.Of(judged.Gross, Knowledge.Sensed));
        return [.. setup.Combination.Axles.Select(a => judged.Map.Configuration[a.Index] == AxleState.Raised ? []
            : Parts(words.Of(LinearForm.OfAxle(judged.Map, a.Index), reach.OfAxle(a.Index))))];
    }

    private static ImmutableArray<UncertaintyPart> Parts(ImmutableArray<(string Words, double Part)> sources) => [.. sources.Select(s => new UncertaintyPart(s.Words, s.Part))];

    private static LoadLine Line(StretchDocument document, LoadStretch stretch) => new(
        document.Axles, [.. stretch.Points.SelectMany(Both)], [.. document.Configurations.Select(c => (c.At, c.Words))]);

    // A place of a line keeps its least and its greatest; which of them came first is that of its gross, or of the first axle that has a figure.
    private static IEnumerable<LoadAt> Both(LoadPoint point)
    {
        var least = new LoadAt(point.From, point.Gross.Least, [.. point.Axles.Select(a => a.Least)]);
        if (point.Rows == 1) return [least];
        var greatest = new LoadAt(point.To, point.Gross.Greatest, [.. point.Axles.Select(a => a.Greatest)]);
        return point.Gross.GreatestAt < point.Gross.LeastAt ? [greatest with { At = point.From }, least with { At = point.To }] : [least, greatest];
    }

    private static MessageLine Line(LoggedInput input)
    {
        var raw = RawMessage.Of(input);
        return new(raw.ReceivedAt, raw.Stream, raw.FirstSampleAt, raw.LastSampleAt, raw.Position, raw.Text ?? raw.Base64 ?? "");
    }
}
