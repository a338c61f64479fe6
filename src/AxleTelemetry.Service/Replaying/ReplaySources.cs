using System.Collections.Immutable;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Messages.Recordings;
using AxleTelemetry.Messages.Settings;
using AxleTelemetry.Messages.Topics;
using AxleTelemetry.Service.Configuring;
using AxleTelemetry.Service.Inputs;

namespace AxleTelemetry.Service.Replaying;

/// <summary>A configuration for a recording that comes with a directory of vehicles and no settings: each fleet that it names has them.</summary>
internal static class ReplaySources
{
    private static readonly TimeSpan Skew = TimeSpan.FromSeconds(60);

    /// <summary>The configuration; <c>null</c> where anything is in error.</summary>
    public static FleetConfiguration? Read(Stream recording, InputRequest request, string vehicles, List<InputProblem> errors)
    {
        var fleets = FleetsOf(recording);
        if (fleets.IsEmpty) errors.Add(new("FILE", "", "", "The recording holds no message of a vehicle."));
        var sources = new SourceReading(new SettingsPlace("--vehicles"), errors).Read(Skew, fleets.Select(name => new FleetSettings
        {
            Name = name,
            Vehicles = vehicles,
            Tickets = request.Tickets is { } tickets ? [tickets] : [],
            Limits = request.Limits,
            Trip = request.Trip,
        }));
        if (errors.Count > 0) return null;
        switch (FleetConfiguration.Build(sources))
        {
            case ConfigurationResult.Built built:
                return built.Configuration;
            case ConfigurationResult.Refused refused:
                errors.AddRange(refused.Errors);
                return null;
            default:
                throw new InvalidOperationException("An outcome of building that nobody handles.");
        }
    }

    private static ImmutableSortedSet<string> FleetsOf(Stream recording) => new RecordingReader(recording).Entries().OfType<RecordingEntry.Read>()
        .Select(r => Topic.Parse(r.Message.Topic)).OfType<TopicResult.Named>().Select(n => n.Topic.Fleet).ToImmutableSortedSet(StringComparer.Ordinal);
}
