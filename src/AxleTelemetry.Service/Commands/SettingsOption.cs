using System.CommandLine;
using AxleTelemetry.Messages.Settings;
using AxleTelemetry.Service.Configuring;
using AxleTelemetry.Service.Hosting;
using AxleTelemetry.Service.Inputs;

namespace AxleTelemetry.Service.Commands;

/// <summary>The settings file of a command that works on a service's journal, read with all it names.</summary>
internal sealed class SettingsOption
{
    private readonly Option<string> _file = new("--settings")
    {
        Description = "Settings file of the service. 'axletelemetry check FILE' says everything that is wrong with it.",
        HelpName = "FILE",
        DefaultValueFactory = _ => "axletelemetry.json",
    };

    public void AddTo(Command command) => command.Options.Add(_file);

    /// <summary>True where it was given, and not only its default holds.</summary>
    public bool IsStated(ParseResult parsed) => parsed.GetResult(_file) is { Implicit: false };

    /// <summary>The file's path as given.</summary>
    public string Path(ParseResult parsed) => parsed.GetValue(_file)!;

    /// <summary>Everything it says; <c>null</c> where it is in error, all of which was told then.</summary>
    public ServiceConfiguration? Read(ParseResult parsed)
    {
        var error = parsed.InvocationConfiguration.Error;
        switch (ServiceReading.Read(Path(parsed)))
        {
            case ServiceResult.Loaded loaded:
                foreach (var warning in loaded.Configuration.Warnings) error.WriteLine($"Warning: {warning}");
                return loaded.Configuration;
            case ServiceResult.Refused refused:
                foreach (var problem in refused.Errors) error.WriteLine(problem);
                return null;
            default:
                throw new InvalidOperationException("An outcome of reading the configuration that nobody handles.");
        }
    }

    /// <summary>Where the service is, of the settings alone: what they name is not read, so that one who asks every minute costs little. <c>null</c> where they are in error, all of which was told then.</summary>
    public ServicePlace? ReadPlace(ParseResult parsed)
    {
        var errors = new List<InputProblem>();
        var place = new SettingsPlace(Path(parsed));
        if (new InputFiles(errors, []).Bytes(place.Settings) is { } bytes)
        {
            switch (SettingsFile.Parse(bytes))
            {
                case SettingsResult.Accepted { Settings: var settings }:
                    return new ServicePlace(settings.Http.Listen, System.IO.Path.GetFullPath(place.Of(settings.DataDirectory)), null);
                case SettingsResult.Refused refused:
                    errors.AddRange(refused.Problems.Where(p => !p.IsWarning).Select(p => new InputProblem(place.Settings, p.Path, p.Found, p.Right)));
                    break;
                default:
                    throw new InvalidOperationException("An outcome of reading settings that nobody handles.");
            }
        }

        foreach (var problem in errors) parsed.InvocationConfiguration.Error.WriteLine(problem);
        return null;
    }
}
