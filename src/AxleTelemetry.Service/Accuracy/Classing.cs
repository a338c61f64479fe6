using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Service.Accuracy;

/// <summary>The classes of the figures of a combination.</summary>
internal sealed class Classing
{
    private readonly Combination _combination;
    private readonly LaneView _view;
    private readonly bool _isRigid, _isBare, _frontIsSensed;

    /// <param name="view">A view of its lane, at any moment: what a figure rests on does not change.</param>
    public Classing(LaneView view)
    {
        _view = view;
        _combination = view.Combination;
        var powered = _combination.Bodies[0];
        _isRigid = powered.Vehicle.Kind == VehicleKind.Rigid;
        _frontIsSensed = powered.Vehicle.Front is not { } front || front.Axles.Any(a => IsSensed(powered.FirstAxle + a));
        _isBare = _combination.Bodies.Any(b => b.Index > 0 && !_combination.Sensors.Any(s => s.Body == b.Index));
    }

    /// <summary>The class of the gross.</summary>
    public FigureClass Gross => _isBare ? FigureClass.GrossBare : _isRigid && !_frontIsSensed ? FigureClass.GrossRearSensed : FigureClass.GrossSensed;

    /// <summary>The class of an axle.</summary>
    public FigureClass Axle(int axle) => _view.Axles[axle].Basis switch
    {
        LoadBasis.OwnSensor => FigureClass.OwnSensor,
        LoadBasis.SharedCircuit => FigureClass.SharedCircuit,
        LoadBasis.OneSide => FigureClass.OneSided,
        LoadBasis.Assumed => FigureClass.Inferred,
        LoadBasis.Inferred => Inferred(_combination.Axles[axle]),
        _ => throw new InvalidOperationException("A basis that nobody handles."),
    };

    private FigureClass Inferred(AxlePart axle) =>
        axle.Body != 0 || axle.Axle.Role != AxleRole.Steer ? FigureClass.Inferred
        : _isRigid ? FigureClass.SteerRearSensed
        : _isBare ? FigureClass.Inferred
        : FigureClass.SteerArticulated;

    private bool IsSensed(int axle) => _combination.Sensors.Any(s => s.Axles.Contains(axle));
}
