using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Simulator.Hauling;
using AxleTelemetry.Simulator.Routes;

namespace AxleTelemetry.Simulator.Days;

/// <summary>How the single acts go.</summary>
internal sealed partial class DayPlayer
{
    private const double LightsApart = 900, RedLight = 0.45, CouplingSeconds = 240, Outside = 40, LowerBefore = 2000;

    private double _lowerAt;

    private void Stand(double seconds)
    {
        if (_driver.Speed > 0) throw new InvalidOperationException("Standing begins at a standstill.");
        for (var i = 0; i < seconds; i++)
        {
            _stood++;
            _driver.Stand();
            Tick(wheels: false);
        }
    }

    private void Drive(double to)
    {
        AdjustLifts(atOnce: false);
        var held = HeldUp().ToList();
        _lowerAt = held.Count > 0 ? _driver.Odometer + _on.Max(v => v.Faults.RaisedMetres) : double.MaxValue;
        if (_vehicle.Route.Road.Ferry(_driver.At, to) is { } sea)
        {
            var way = Math.Sign(sea.Far - sea.Near);
            Roll(sea.Near - way * Outside, held);
            Stand(_random.Whole(300, 1200));
            Roll(sea.Near, held);
            Stand(_random.Whole(120, 600));
            Cross(sea.Far);
            Stand(_random.Whole(60, 300));
        }

        Roll(to, held);
        foreach (var axle in held.Where(a => LiftControl.MustBeDown(_rig, a))) Move(axle, AxleState.Loaded);
    }

    private void Cross(double far)
    {
        while (Math.Abs(far - _driver.At) > 0.5)
        {
            // A ship takes half a minute to come up to speed, and creeps alongside.
            var speed = Math.Min(RoadClass.Ferry.Speed(), Math.Max(0.4, Math.Min(_driver.Speed + 0.2, Math.Abs(far - _driver.At) / 20)));
            _driver.Carry(far, speed);
            Tick(wheels: false);
        }

        _driver.Stand();
    }

    private void Roll(double to, List<AxlePart> held)
    {
        if (Math.Abs(to - _driver.At) < 4) return;
        SetOff();
        var light = NextLight(to);
        var stop = light is { } red && Math.Abs(red - _driver.At) < Math.Abs(to - _driver.At) ? red : to;
        while (!_driver.Roll(stop, _rig.Loads.Gross))
        {
            Tick(wheels: true);
            Burn();
            // Not so near the end that the axle would still move when the truck stops.
            if (_driver.Odometer < _lowerAt || Math.Abs(to - _driver.At) < LowerBefore || light is not null) continue;
            _lowerAt = double.MaxValue;
            foreach (var axle in held.Where(a => LiftControl.MustBeDown(_rig, a))) Move(axle, AxleState.Loaded);
            held.Clear();
        }

        Tick(wheels: false);
        if (Math.Abs(to - _driver.At) < 4) return;
        Stand(_random.Whole(12, 50));
        Roll(to, held);
    }

    private void SetOff()
    {
        if (_stood >= StretchAfterSeconds)
        {
            foreach (var vehicle in _on) vehicle.Sense.BeginStretch();
            _wind = _vehicle.Plan.Noise ? _random.Normal(WindSd) : 0;
        }

        _rolledFrom = _driver.Odometer;
        _stood = 0;
    }

    private double? NextLight(double to)
    {
        var at = _driver.At + Math.Sign(to - _driver.At) * _random.Between(0.5, 1.5) * LightsApart;
        return _random.Chance(RedLight) && _vehicle.Route.Road.At(at).Road == RoadClass.Town ? at : null;
    }

    private void Burn()
    {
        if (!_vehicle.Plan.Errors) return;
        _fuel = Math.Max(20, _fuel - FuelPerMetre * _driver.Speed);
        if (_served - _crew - _fuel < FuelStep) return;
        _served = _crew + _fuel;
        _rig.Serve(_served);
    }

    private void Load(Act.Load load)
    {
        if (load.Then.IsEmpty) throw new InvalidOperationException("Nothing to load into.");
        EndLeg();
        Stand(_random.Whole(20, 120));
        if (load.Where == LoadingPlace.Dock)
            foreach (var vehicle in _on.Where(v => v.Vehicle.Description.LoadSpace is not null && v.Vehicle.Description.Rear.AirSuspension))
                vehicle.Dump();
        _tipping = load.Where == LoadingPlace.Tip;
        foreach (var aboard in load.Then) Fill(aboard, load.Seconds / load.Then.Length);
        _tipping = false;
        foreach (var vehicle in _on) vehicle.LevelFrom(_second);
        Tell();
        Stand(_random.Whole(40, 150));
        AdjustLifts(atOnce: false);
        Stand(_random.Whole(60, 200));
    }

    private void Fill(Aboard aboard, int seconds)
    {
        _before = [.. _rig.Payload];
        if (!Carry(aboard, slowly: true)) return;
        for (var i = 1; i <= seconds; i++)
        {
            _rig.Fill(i / (double)seconds);
            Stand(1);
            if (i % TruthEvery == 0) Tell();
        }

        _rig.Fill(1);
        _before = [.. _rig.Payload];
    }

    // What would not stand with the lifts as they are may stand with them the other way: the driver turns them first.
    private bool Carry(Aboard aboard, bool slowly)
    {
        if (_rig.Load(aboard, slowly)) return true;
        foreach (var axle in _rig.Described.Axles.Where(a => a.Axle.Lift is not null))
        {
            Move(axle, _rig.Configuration[axle.Index] == AxleState.Raised ? AxleState.Loaded : AxleState.Raised);
            if (_rig.Load(aboard, slowly)) return true;
        }

        return false;
    }

    private void Couple(Act.Couple act)
    {
        EndLeg();
        Stand(CouplingSeconds / 2);
        foreach (var vehicle in _on.Skip(1)) vehicle.Stop(Now);
        _rig = Joined(act.Trailers);
        Join();
        foreach (var vehicle in _on.Skip(1)) vehicle.Start(Now, _second);
        _on[0].Couple(Now, _rig.Ids.Skip(1));
        foreach (var aboard in act.With) Carry(aboard, slowly: false);
        _before = [.. _rig.Payload];
        foreach (var vehicle in _on) vehicle.LevelFrom(_second);
        Tell();
        Stand(CouplingSeconds / 2);
        AdjustLifts(atOnce: false);
    }

    /// <summary>Axles that the driver keeps up though they carry too much so.</summary>
    private IEnumerable<AxlePart> HeldUp() => _rig.Described.Axles.Where(a =>
        a.Axle.Lift is not null && _on[a.Body].Faults.Has(FaultKind.RaisedTooLong) && _rig.Configuration[a.Index] == AxleState.Raised);

    private void AdjustLifts(bool atOnce)
    {
        foreach (var axle in _rig.Described.Axles.Where(a => a.Axle.Lift is not null))
        {
            var wanted = Wanted(axle);
            if (wanted == _rig.Configuration[axle.Index]) continue;
            if (atOnce) _rig.Turn(_rig.Configuration.With(axle.Index, wanted));
            else Move(axle, wanted);
        }
    }

    private AxleState Wanted(AxlePart axle)
    {
        var faults = _on[axle.Body].Faults;
        var now = _rig.Configuration[axle.Index];
        if (faults.Has(FaultKind.LeftDown)) return _rig.With(_rig.Configuration.With(axle.Index, AxleState.Loaded)) is null ? now : AxleState.Loaded;
        if (now == AxleState.Raised && (faults.Has(FaultKind.AutomaticFails) || faults.Has(FaultKind.RaisedTooLong))) return now;
        return LiftControl.Wanted(_rig, axle);
    }

    /// <summary>A lift moves for some seconds, rolling or standing; false, and nothing is done, where it would not stand.</summary>
    private void Move(AxlePart axle, AxleState to)
    {
        var turned = _rig.Configuration.With(axle.Index, to);
        if (turned == _rig.Configuration || _rig.With(turned) is null) return;
        var (vehicle, own) = (_on[axle.Body], axle.Index - _rig.Described.Bodies[axle.Body].FirstAxle);
        vehicle.Moving[own] = true;
        for (var i = 0; i < LiftSeconds; i++)
        {
            if (_driver.Speed > 0) _driver.Roll(_driver.At + _driver.Ahead * 1e5, _rig.Loads.Gross);
            else _stood++;
            Tick(wheels: _driver.Speed > 0);
        }

        vehicle.Moving[own] = false;
        _rig.Turn(turned);
        Tell();
    }
}
