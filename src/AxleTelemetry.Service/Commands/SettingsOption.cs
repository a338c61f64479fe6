using System.CommandLine;
using AxleTelemetry.Service.Configuring;

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
}
