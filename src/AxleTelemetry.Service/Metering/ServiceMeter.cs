using System.Diagnostics.Metrics;
using AxleTelemetry.Service.Delivering;
using AxleTelemetry.Service.Events;
using AxleTelemetry.Service.Health;
using AxleTelemetry.Service.Series;
using AxleTelemetry.Service.Serving;
using AxleTelemetry.Service.Sharding;

namespace AxleTelemetry.Service.Metering;

/// <summary>Every metric of the service. All are observed: nothing is counted twice and nothing costs anything between two looks.</summary>
internal sealed class ServiceMeter : IDisposable
{
    public const string Name = "AxleTelemetry";

    private readonly Meter _meter = new(Name);
    private readonly Desks _desks;
    private readonly FleetFigureBoard _board;

    public ServiceMeter(Desks desks, FleetFigureBoard board, Listeners listeners)
    {
        (_desks, _board) = (desks, board);
        Receiving();
        Committing();
        Fleet();
        Series();
        Delivery();
        _meter.CreateObservableGauge("axletelemetry.sse.clients", () => listeners.Count, null, "Those who listen to events.");
    }

    public Meter Meter => _meter;

    public void Dispose() => _meter.Dispose();

    private void Receiving()
    {
        Counter("axletelemetry.messages.received", "Messages taken.", h => h.Trace.Received);
        Counter("axletelemetry.messages.committed", "Messages committed.", h => h.Trace.Committed);
        Counter("axletelemetry.messages.acknowledged", "Acknowledgements handed to their connection.", h => h.Trace.Acknowledged);
        Counter("axletelemetry.messages.redelivered", "Messages taken that were marked as sent before.", h => h.Trace.Redelivered);
        Gauge("axletelemetry.queue.bytes", "By", "Taken and not yet committed.", h => h.HeldBytes);
        Gauge("axletelemetry.ready", null, "1 where messages are taken and committed.", h => HealthDocument.Of([("", h)]).Ready ? 1 : 0);
    }

    private void Committing()
    {
        Gauge("axletelemetry.batch.messages", null, "Messages in the last batch.", h => h.BatchMessages);
        Gauge("axletelemetry.commit.seconds", "s", "How long the last commit took.", h => h.CommitTime.TotalSeconds);
        Counter("axletelemetry.commit.failures", "Commits that failed.", h => h.Trace.CommitFailures);
        Gauge("axletelemetry.journal.bytes", "By", "The journal on the disk.", h => h.JournalBytes);
        Counter("axletelemetry.corrections", "Second runs of history finished.", h => h.Corrected);
        Gauge("axletelemetry.corrections.waiting", null, "Units whose history is to be corrected.", h => h.ToBeCorrected);
    }

    private void Fleet()
    {
        _meter.CreateObservableCounter("axletelemetry.refusals", () => Figures((f, shard) => f.Refused.Select(r => Measured(r.Count, shard, ("reason", r.Reason)))), null, "Refusals by reason.");
        _meter.CreateObservableCounter("axletelemetry.readings", () => Figures((f, shard) => f.Readings.Select(r => Measured(r.Count, shard, ("outcome", r.Outcome)))), null, "Readings by what became of them.");
        _meter.CreateObservableGauge("axletelemetry.alerts.open", () => Figures((f, shard) => f.Alerts.Select(a => Measured(a.Count, shard, ("state", a.State), ("priority", a.Priority)))), null, "Open alerts.");
        _meter.CreateObservableGauge("axletelemetry.alarms.recent", () => Figures((f, shard) => [Measured(f.Alarms, shard)]), null, "Alerts that rang in the last 10 min.");
        _meter.CreateObservableGauge("axletelemetry.vehicles.heard", () => Figures((f, shard) => [Measured(f.Heard, shard)]), null, "Vehicles heard in the last 5 min.");
    }

    private void Series()
    {
        _meter.CreateObservableCounter("axletelemetry.series.points.written", () => Carried(s => [(s.Written, null)]), null, "Points that are in the database of series.");
        _meter.CreateObservableCounter("axletelemetry.series.points.refused", () => Carried(s => s.Refused.Select(r => (r.Value, (string?)r.Key))), null, "Points that it refused, by reason.");
        _meter.CreateObservableGauge("axletelemetry.series.behind", () => Carried(s => [(s.Behind, null)]), null, "Batches committed and not carried yet.");
    }

    private void Delivery()
    {
        Told("axletelemetry.delivery.delivered", "Messages about alerts that the other side has.", r => r.Tally.Delivered);
        Told("axletelemetry.delivery.retried", "Attempts that failed and are made again.", r => r.Tally.Retried);
        Told("axletelemetry.delivery.dead", "Messages given up.", r => r.Tally.Dead);
        Told("axletelemetry.delivery.dropped", "Messages given up that are not kept any more.", r => r.Tally.Dropped);
        Told("axletelemetry.delivery.gathered", "Messages told as parts of a digest.", r => r.Tally.Gathered);
        Told("axletelemetry.delivery.escalated", "Messages sent as nobody acknowledged in time.", r => r.Tally.Escalated);
        _meter.CreateObservableCounter("axletelemetry.delivery.unread", () => _desks.Deliveries?.UnreadCounts().Select(u => Measured(u.Count, u.Shard)) ?? [], null, "Changes of alerts that could not be read, so that nobody was told of them.");
        _meter.CreateObservableCounter("axletelemetry.delivery.unnoted", () => _desks.Deliveries is { } deliveries ? [new Measurement<long>(deliveries.Unnoted())] : Array.Empty<Measurement<long>>(), null, "Outcomes of messages that the alerts were never told of, as they are not kept any more.");
        _meter.CreateObservableGauge("axletelemetry.delivery.waiting", () => Told(r => r.Waiting), null, "Messages that wait.");
    }

    private void Told(string name, string text, Func<RecipientState, long> value) => _meter.CreateObservableCounter(name, () => Told(value), null, text);

    private IEnumerable<Measurement<long>> Told(Func<RecipientState, long> value) =>
        _desks.Deliveries?.States().Select(r => new Measurement<long>(value(r), new KeyValuePair<string, object?>("recipient", r.Recipient))) ?? [];

    private IEnumerable<Measurement<long>> Carried(Func<SeriesState, IEnumerable<(long Value, string? Reason)>> of) =>
        _desks.All.SelectMany(d => d.Series() is { } series ? of(series).Select(v => v.Reason is { } reason ? Measured(v.Value, d.Name, ("reason", reason)) : Measured(v.Value, d.Name)) : []);

    private void Counter(string name, string text, Func<ShardHealth, long> value) =>
        _meter.CreateObservableCounter(name, () => _desks.All.Select(d => Measured(value(d.Health), d.Name)), null, text);

    private void Gauge(string name, string? unit, string text, Func<ShardHealth, double> value) =>
        _meter.CreateObservableGauge(name, () => _desks.All.Select(d => new Measurement<double>(value(d.Health), new KeyValuePair<string, object?>("shard", d.Name))), unit, text);

    private IEnumerable<Measurement<long>> Figures(Func<FleetFigures, string, IEnumerable<Measurement<long>>> of) => _desks.All.SelectMany(d => of(_board.Of(d.Name), d.Name));

    private static Measurement<long> Measured(long value, string shard, params ReadOnlySpan<(string Name, string Value)> tags)
    {
        var all = new KeyValuePair<string, object?>[tags.Length + 1];
        all[0] = new("shard", shard);
        for (var i = 0; i < tags.Length; i++) all[i + 1] = new(tags[i].Name, tags[i].Value);
        return new Measurement<long>(value, all);
    }
}
