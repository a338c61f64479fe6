using System.Collections.Immutable;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Messages.Limits;
using AxleTelemetry.Service.Checking;
using AxleTelemetry.Service.Configuring;

namespace AxleTelemetry.Service.Inputs;

/// <summary>Vehicles, tickets and limits as files, read once, without a settings file that says whose they are: every fleet that sends has them. Immutable.</summary>
internal sealed class FleetFiles
{
    private const string AnyFleet = "any";

    private readonly FleetSources _sources;

    private FleetFiles(FleetSources sources, ConfiguredFleet fleet) => (_sources, Vehicles, Limits) = (sources, [.. fleet.Vehicles.Select(v => v.Description)], fleet.Limits);

    /// <summary>How far a vehicle's clock may run ahead of ours where no settings say it.</summary>
    public static TimeSpan AllowedSkew { get; } = TimeSpan.FromSeconds(60);

    /// <summary>The vehicles.</summary>
    public ImmutableArray<VehicleDescription> Vehicles { get; }

    /// <summary>The table of limits.</summary>
    public LimitSet Limits { get; }

    /// <summary>What is known of the trips.</summary>
    public LimitContext Trip => _sources.Trip;

    /// <summary>What is odd but possible.</summary>
    public ImmutableArray<InputProblem> Warnings { get; private init; } = [];

    /// <summary>Reads what was asked for. Its vehicle files may be directories, of which every .json is one unless it is plainly of another kind. <c>null</c> where anything is in error.</summary>
    public static FleetFiles? Read(InputRequest request, List<InputProblem> errors)
    {
        List<InputProblem> warnings = [], wrong = [];
        var files = new InputFiles(wrong, warnings);
        var sources = new FleetSources
        {
            Name = AnyFleet,
            Trip = request.Trip,
            Vehicles = [.. request.VehicleFiles.SelectMany(path => Expand(path, wrong)).Select(path => Text(path, files)).OfType<SourceText>()],
            Tickets = request.Tickets is { } tickets && Text(tickets, files) is { } read ? [read] : [],
            Permits = request.Permits is { } permits && Text(permits, files) is { } permitted ? [permitted] : [],
            // The shipped table also stands in for a file that cannot be read, so that only that is told.
            MoreLimits = request.Limits is null ? [.. LimitSetFile.NationalNames.Select(n => new SourceText(n, [.. LimitSetFile.ShippedText(n)]))] : [],
            Limits = (request.Limits is { } limits ? Text(limits, files) : null) ?? new(LimitSetFile.Directive, [.. LimitSetFile.ShippedText(LimitSetFile.Directive)]),
        };
        var fleet = ConfiguredFleet.Build(sources, wrong, warnings);
        errors.AddRange(wrong);
        return fleet is null || wrong.Count > 0 ? null : new FleetFiles(sources, fleet) { Warnings = [.. warnings] };
    }

    /// <summary>The configuration of fleets, all with these files.</summary>
    public FleetConfiguration Of(IEnumerable<string> fleets)
    {
        var sources = new ConfigurationSources(AllowedSkew, [.. fleets.Order(StringComparer.Ordinal).Select(name => _sources with { Name = name })]);
        return FleetConfiguration.Build(sources) is ConfigurationResult.Built built
            ? built.Configuration : throw new InvalidOperationException("Files that were whole are so under any name.");
    }

    private static SourceText? Text(string path, InputFiles files) => files.Bytes(path) is { } bytes ? new(path.Replace('\\', '/'), [.. bytes]) : null;

    private static IEnumerable<string> Expand(string path, List<InputProblem> errors)
    {
        if (!Directory.Exists(path)) return [path];
        string[] files = [.. Directory.EnumerateFiles(path, "*.json").Where(IsNoOtherKind).Order(StringComparer.Ordinal)];
        if (files.Length == 0) errors.Add(new(path, "", "", "The directory holds no vehicle file (.json)."));
        return files;
    }

    /// <summary>A table of limits may lie beside the vehicles; what cannot be known is taken as a vehicle, so that its mistake is told.</summary>
    private static bool IsNoOtherKind(string path)
    {
        try
        {
            var bytes = File.ReadAllBytes(path);
            var text = new FileText(path, bytes, bytes.LongLength);
            return FileKind.Vehicles.Any(k => k.Recognises(text)) || !FileKind.Others(new KnownVehicles([])).Any(k => k.Recognises(text));
        }
        catch (Exception unread) when (unread is IOException or UnauthorizedAccessException)
        {
            return true;
        }
    }
}
