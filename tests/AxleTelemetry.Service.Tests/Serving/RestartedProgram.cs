using System.Collections.Immutable;
using AxleTelemetry.Service.Tests.Watching;

namespace AxleTelemetry.Service.Tests.Serving;

/// <summary>The program of this build, run with the same arguments again and again: killed without warning, or asked to stop.</summary>
internal sealed class RestartedProgram(params string[] arguments) : IAsyncDisposable
{
    private static readonly TimeSpan Deadline = TimeSpan.FromSeconds(60), Between = TimeSpan.FromMilliseconds(20);

    private readonly List<RunningProgram> _lives = [];

    /// <summary>The run that was started last.</summary>
    public RunningProgram Now => _lives[^1];

    /// <summary>What all runs wrote, the first of them first.</summary>
    public ImmutableArray<string> Output => [.. _lives.SelectMany(l => l.Output.All)];

    /// <summary>What all runs wrote as errors.</summary>
    public ImmutableArray<string> Errors => [.. _lives.SelectMany(l => l.Errors.All)];

    public void Start()
    {
        if (_lives.Count > 0 && !Now.HasEnded) throw new InvalidOperationException("It still runs.");
        _lives.Add(RunningProgram.Build(arguments));
    }

    /// <summary>As a power cut does: it has no chance to finish anything.</summary>
    public async Task Kill()
    {
        await Now.Signal("KILL");
        Assert.Equal(128 + 9, await Now.Exit());
    }

    /// <summary>Asks it to stop; returns its exit code.</summary>
    public async Task<int> Stop()
    {
        await Now.Signal("TERM");
        return await Now.Exit();
    }

    /// <summary>Waits for something that it does; fails where it ends before, or does not do it in a minute.</summary>
    /// <param name="what">What is waited for, for people.</param>
    /// <param name="condition">Tried until it is true. A connection that is refused counts as not yet.</param>
    public async Task Until(string what, Func<CancellationToken, Task<bool>> condition)
    {
        using var deadline = new CancellationTokenSource(Deadline);
        using var timer = new PeriodicTimer(Between);
        try
        {
            while (!await Tried(condition, deadline.Token))
            {
                if (Now.HasEnded) Assert.Fail($"It ended with {await Now.Exit()} before: {what}.\n{All()}");
                await timer.WaitForNextTickAsync(deadline.Token);
            }
        }
        catch (OperationCanceledException) when (deadline.IsCancellationRequested)
        {
            Assert.Fail($"It did not come: {what}.\n{All()}");
        }
    }

    public async ValueTask DisposeAsync()
    {
        foreach (var life in _lives) await life.DisposeAsync();
    }

    private static async Task<bool> Tried(Func<CancellationToken, Task<bool>> condition, CancellationToken cancel)
    {
        try
        {
            return await condition(cancel);
        }
        catch (Exception refused) when (refused is HttpRequestException or System.Net.Sockets.SocketException)
        {
            return false;
        }
    }

    private string All() => string.Join('\n', [.. Output, .. Errors]);
}
