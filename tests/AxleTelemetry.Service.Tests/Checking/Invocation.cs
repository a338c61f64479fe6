using System.CommandLine;
using AxleTelemetry.Service.Commands;

namespace AxleTelemetry.Service.Tests.Checking;

/// <summary>One run of the command line in this process.</summary>
/// <param name="ExitCode">What it tells the shell.</param>
/// <param name="Output">What it wrote, errors among the rest.</param>
internal sealed record Invocation(int ExitCode, string Output)
{
    /// <summary>What it wrote as errors, where they were kept apart.</summary>
    public string Errors { get; private init; } = "";

    public static Invocation Of(params string[] args)
    {
        using var output = new StringWriter();
        return new Invocation(Run(args, output, output), output.ToString());
    }

    /// <summary>With what is written as errors kept apart: a program reads the answer alone.</summary>
    public static Invocation Apart(params string[] args)
    {
        using StringWriter output = new(), errors = new();
        return new Invocation(Run(args, output, errors), output.ToString()) { Errors = errors.ToString() };
    }

    private static int Run(string[] args, StringWriter output, StringWriter errors) => Root.Run(args, new InvocationConfiguration { Output = output, Error = errors });
}
