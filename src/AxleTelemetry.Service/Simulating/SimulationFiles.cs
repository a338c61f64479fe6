using System.Globalization;
using AxleTelemetry.Messages.Recordings;
using AxleTelemetry.Simulator.Days;
using AxleTelemetry.Simulator.Hauling;

namespace AxleTelemetry.Service.Simulating;

/// <summary>Writes a simulated fleet into a directory: vehicles, tickets, settings, a recording and the truth.</summary>
internal sealed class SimulationFiles(string directory, TextWriter output)
{
    /// <summary>Name of the recording.</summary>
    public const string Recording = "recording.ndjson";

    /// <summary>Name of the file of truth.</summary>
    public const string Truth = "truth.ndjson";

    private const int BufferBytes = 1 << 20;

    /// <summary>Writes everything, or until cancelled: then what is written so far is whole lines.</summary>
    public void Write(SimulationOrder order, CancellationToken cancel)
    {
        var fleet = SimulatedFleet.Draw(order.Seed, order.Plan);
        fleet.WriteFiles(Directory.CreateDirectory(directory).FullName);
        long messages = 0, records = 0;
        using (var recording = Open(Recording))
        using (var truth = Open(Truth))
        {
            var (said, true_) = (new RecordingWriter(recording), new TruthWriter(truth));
            foreach (var happened in fleet.Play(0, order.Days))
            {
                if (cancel.IsCancellationRequested) break;
                switch (happened)
                {
                    case DayOutput.Sent { Message: var message }:
                        said.Write(message.AsRecorded());
                        messages++;
                        break;
                    case DayOutput.True { Record: var record }:
                        true_.Write(record);
                        records++;
                        break;
                    default: throw new InvalidOperationException("Something happened that nobody writes down.");
                }
            }
        }

        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"Seed {order.Seed}: {fleet.Vehicles.Length} powered vehicles, {fleet.Everything.Length - fleet.Vehicles.Length} trailers, {messages} messages, {records} records of truth."));
        output.WriteLine($"Check it:  axletelemetry check {Named(FleetFiles.Settings)}");
        output.WriteLine($"Run it:    axletelemetry replay {Named(Recording)} --settings {Named(FleetFiles.Settings)}");
    }

    private FileStream Open(string name) => new(Path.Combine(directory, name), new FileStreamOptions { Mode = FileMode.Create, Access = FileAccess.Write, BufferSize = BufferBytes });

    private string Named(string name) => Path.Combine(directory, name);
}
