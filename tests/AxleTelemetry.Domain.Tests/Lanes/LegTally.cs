using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Simulator.Statics;

namespace AxleTelemetry.Domain.Tests.Lanes;

/// <summary>Counts at the ends of legs how often the interval of an axle or of the gross holds the truth.</summary>
internal sealed class LegTally(string what)
{
    private readonly SortedDictionary<string, (int Held, int Of, double Width, double Error)> _cells = [];

    public int Legs { get; private set; }

    /// <summary>Legs at whose end no settled load was in hand.</summary>
    public int Unsettled { get; private set; }

    /// <summary>Times a limit was said to be surely passed, and how often it was not.</summary>
    public int Surely { get; private set; }

    public int Falsely { get; private set; }

    public IEnumerable<KeyValuePair<string, double>> Coverage => _cells.Select(c => KeyValuePair.Create(c.Key, (double)c.Value.Held / c.Value.Of));

    public string Report => $"{what}: {Legs} legs, {Unsettled} without a settled load, {Surely} limits told as surely passed, {Falsely} of them not\n"
        + string.Join('\n', _cells.Select(c => FormattableString.Invariant(
            $"{(double)c.Value.Held / c.Value.Of:P1} +-{c.Value.Width / c.Value.Of:0} kg, mean error {c.Value.Error / c.Value.Of:0} kg  {c.Key}")));

    public void Compare(Lane lane, TrueLoads truth)
    {
        Legs++;
        var state = lane.State;
        if (state.Load.MayHaveChanged != 0 || lane.Setup.Model.MapAt(lane.Configuration, state.Payload.State) is not { } map)
        {
            Unsettled++;
            return;
        }

        void Add(string key, LinearForm form, double real)
        {
            var estimate = lane.Setup.Estimator.Evaluate(state.Payload, state.Known, form);
            var (held, of, width, error) = _cells.GetValueOrDefault(key);
            _cells[key] = (held + (real >= estimate.Low && real <= estimate.High ? 1 : 0), of + 1, width + estimate.HalfWidth, error + estimate.Mean - real);
        }

        foreach (var axle in lane.Setup.Combination.Axles.Where(a => map.Configuration[a.Index] == AxleState.Loaded))
            Add(axle.Axle.Key, LinearForm.OfAxle(map, axle.Index), truth.Axles[axle.Index]);
        Add("gross", LinearForm.OfGross(map, lane.Setup.Combination), truth.Axles.Sum());
    }

    public void Hear(LaneOutput.Episode episode, double excess)
    {
        if (episode.Level != Level.Surely || episode.Change is not (EpisodeChange.Opened or EpisodeChange.Rose)) return;
        Surely++;
        if (excess <= 0) Falsely++;
    }
}
