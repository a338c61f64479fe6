using System.CommandLine;
using AxleTelemetry.Service.Commands;

namespace AxleTelemetry.Service.Tests.Checking;

/// <summary>One run of the command line in this process.</summary>
internal sealed record Invocation(int ExitCode, string Output)
{
    public static Invocation Of(params string[] args)
    {
        using var output = new StringWriter();
        var exitCode = Root.Run(args, new InvocationConfiguration { Output = output, Error = output });
        return new Invocation(exitCode, output.ToString());
    }
}
