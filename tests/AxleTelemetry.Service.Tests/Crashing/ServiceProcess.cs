using AxleTelemetry.Service.Tests.Watching;

namespace AxleTelemetry.Service.Tests.Crashing;

/// <summary>The service as a process of its own, with its trace.</summary>
internal sealed class ServiceProcess(RunningProgram program, TraceLog trace) : IAsyncDisposable
{
    private const int Killed = 128 + 9;

    /// <summary>Its process id.</summary>
    public int Id => program.Id;

    /// <summary>What it says.</summary>
    public Lines Says => program.Output;

    /// <summary>The steps of its messages so far.</summary>
    public TraceLog Trace => trace.Refreshed();

    /// <summary>Waits until its trace says something.</summary>
    public Task Until(Func<TraceLog, bool> holds, string what) =>
        Eventually.Holds(() => holds(trace.Refreshed()), () => $"{what}. {trace.Lines} lines of trace. {string.Join('\n', program.Output.All.Concat(program.Errors.All))}");

    /// <summary>Kills it where it stands; fails where it had ended by itself.</summary>
    public async Task<TraceLog> Kill()
    {
        Assert.Equal(Killed, await program.Kill());
        return trace.Refreshed();
    }

    /// <summary>Stops it as an operator does; it ends well.</summary>
    public async Task<TraceLog> Stop()
    {
        await program.Signal("TERM");
        Assert.Equal(0, await program.Exit());
        Assert.Empty(program.Errors.All);
        return trace.Refreshed();
    }

    public ValueTask DisposeAsync() => program.DisposeAsync();
}
