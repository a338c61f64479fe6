using System.CommandLine;

namespace AxleTelemetry.Service.Commands;

/// <summary>The command line: one executable, one command per thing a person comes to do.</summary>
internal static class Root
{
    public static int Run(string[] args)
    {
        var root = new RootCommand("Axle loads of haulage vehicles with liftable axles.");
        return root.Parse(args).Invoke();
    }
}
