using System.Collections.Immutable;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Planning;
using AxleTelemetry.Domain.Turning;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Service.Inputs;
using AxleTelemetry.Service.LoadSheets;
using static System.FormattableString;

namespace AxleTelemetry.Service.Planning;

/// <summary>From an ask to an order: looks up names, checks that everything stands in its load space.</summary>
internal sealed class PlanOrdering
{
    private readonly PlanBasis _basis;
    private readonly PlanAsk _ask;
    private readonly PlanFields _fields;
    private readonly List<InputProblem> _errors;
    private readonly BodyPart[] _carrying;

    private PlanOrdering(PlanBasis basis, (PlanAsk Ask, PlanFields Fields) asked, List<InputProblem> errors)
    {
        (_basis, _ask, _fields, _errors) = (basis, asked.Ask, asked.Fields, errors);
        _carrying = [.. basis.Setup.Combination.Bodies.Where(b => b.StateIndex >= 0)];
    }

    /// <summary>The order; <c>null</c> with every error listed.</summary>
    public static PlanOrder? Of(PlanBasis basis, (PlanAsk Ask, PlanFields Fields) asked, List<InputProblem> errors)
    {
        var ordering = new PlanOrdering(basis, asked, errors);
        return ordering.Varied() is { } body && ordering.Order(body) is var order && errors.Count == 0 ? order : null;
    }

    /// <summary>The only one that carries, else the one named.</summary>
    private BodyPart? Varied()
    {
        var lookup = new KeyLookup(_basis.Setup.Combination, _errors);
        if (_ask.Of is { } id) return lookup.Body(_fields.Of, id, _carrying);
        if (_carrying.Length == 1) return _carrying[0];
        _errors.Add(new(_fields.Of, "", "", _carrying.Length == 0 ? "No vehicle here carries payload."
            : $"Right would be {string.Join(" or ", _carrying.Select(b => b.Vehicle.Id))}: several vehicles carry payload, and the diagram is for one."));
        return null;
    }

    private PlanOrder Order(BodyPart body)
    {
        var setup = _basis.Setup;
        var (payload, known) = (setup.Estimator.NewEstimate(), setup.Estimator.NewKnownErrors());
        if (_basis.Live is { } live)
        {
            payload.CopyFrom(live.Payload);
            known.CopyFrom(live.Known);
        }

        var masses = PerBody(_fields.Payload, _ask.Payloads, body);
        var places = PerBody(_fields.Centre, _ask.Centres, body);
        foreach (var (other, metres) in places) CheckPlace(other, metres, masses.ContainsKey(other));
        foreach (var (other, kilograms) in masses) State(payload, other, Aboard.At(kilograms, places.GetValueOrDefault(other, other.Vehicle.LoadSpace!.Centre.Metres)));
        var source = Source(payload, body, masses.ContainsKey(body));
        CheckDrops(payload, body);
        return new PlanOrder { Setup = setup, Body = body, Payload = payload, Known = known, Source = source, Drops = _ask.Drops, Turning = Turning(), Limits = _basis.Limits };
    }

    private TurningAssumptions Turning()
    {
        var described = TurningAssumptions.Of(_basis.Setup.Combination);
        return described with { FrontOverhang = _ask.FrontOverhang ?? described.FrontOverhang, Width = _ask.Width ?? described.Width };
    }

    private PlanSource Source(PayloadEstimate payload, BodyPart body, bool stated)
    {
        if (stated) return new PlanSource.Stated();
        if (_basis.Live is { } live) return new PlanSource.Live(live.Worth, live.Present);
        if (_ask.Drops.IsEmpty) return new PlanSource.Empty();
        State(payload, body, Aboard.Of(_ask.Drops));
        return new PlanSource.Items();
    }

    /// <summary>What is stated is taken as exact; what else is known of the load is of the other bodies.</summary>
    private static void State(PayloadEstimate payload, BodyPart body, Aboard aboard)
    {
        var (p, n, m) = (body.StateIndex, payload.States, payload.Errors);
        (payload.State[p], payload.State[p + 1]) = (aboard.Kilograms, aboard.Moment);
        foreach (var row in new[] { p, p + 1 })
        {
            payload.Sensitivity.Slice(row * m, m).Clear();
            for (var k = 0; k < n; k++) (payload.Covariance[row * n + k], payload.Covariance[k * n + row]) = (0, 0);
        }
    }

    private void CheckPlace(BodyPart body, double metres, bool hasMass)
    {
        if (!hasMass) _errors.Add(new(_fields.Centre, "", Invariant($"'{metres:0.###}'"), $"Right would be to state the payload of {body.Vehicle.Id} too, by {_fields.Payload}: the place belongs to it."));
        else if (!Holds(body, metres)) _errors.Add(new(_fields.Centre, "", Invariant($"'{metres:0.###}'"), Space(body)));
    }

    private void CheckDrops(PayloadEstimate payload, BodyPart body)
    {
        var space = body.Vehicle.LoadSpace!;
        var left = new Aboard(payload.State[body.StateIndex], payload.State[body.StateIndex + 1]);
        foreach (var drop in _ask.Drops)
        {
            var before = left;
            left = left.After([drop])[0];
            var text = Invariant($"'{drop.Kilograms:0.#}@{drop.Metres:0.###}'");
            if (!Holds(body, drop.Metres)) _errors.Add(new(_fields.Drop, "", text, Space(body)));
            else if (drop.Kilograms > before.Kilograms + 1) _errors.Add(new(_fields.Drop, "", text, Invariant($"Right would be at most {Math.Max(0, before.Kilograms):0} kg: so much is aboard then.")));
            else if (!left.CouldBe(space.Front.Metres, space.Rear.Metres))
                _errors.Add(new(_fields.Drop, "", text, Invariant($"Right would be drops whose places agree with the centre of the whole load: of what is left, {left.Kilograms:0} kg, it would be at {left.Moment / left.Kilograms:0.00} m, outside the load space of {body.Vehicle.Id}.")));
            else continue;
            return;
        }
    }

    private Dictionary<BodyPart, double> PerBody(string field, ImmutableArray<(string? Vehicle, double Value)> stated, BodyPart varied)
    {
        var (values, lookup) = (new Dictionary<BodyPart, double>(), new KeyLookup(_basis.Setup.Combination, _errors));
        foreach (var (id, value) in stated)
        {
            if ((id is null ? varied : lookup.Body(field, id, _carrying)) is not { } body) continue;
            if (!values.TryAdd(body, value)) _errors.Add(new(field, "", Invariant($"'{value}'"), $"{body.Vehicle.Id} is stated twice."));
        }

        return values;
    }

    private static bool Holds(BodyPart body, double metres) =>
        metres >= body.Vehicle.LoadSpace!.Front.Metres && metres <= body.Vehicle.LoadSpace.Rear.Metres;

    private static string Space(BodyPart body) => Invariant(
        $"Right would be a place from {body.Vehicle.LoadSpace!.Front.Metres:0.0##} to {body.Vehicle.LoadSpace.Rear.Metres:0.0##} m, within the load space of {body.Vehicle.Id}.");
}
