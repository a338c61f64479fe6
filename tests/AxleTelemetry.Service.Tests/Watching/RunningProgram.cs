using System.Diagnostics;
using System.Globalization;

namespace AxleTelemetry.Service.Tests.Watching;

/// <summary>A program run as a process of its own, without a terminal; ended when disposed of.</summary>
internal sealed class RunningProgram : IAsyncDisposable
{
    private static readonly TimeSpan Deadline = TimeSpan.FromSeconds(60);

    private readonly Process _process;

    private RunningProgram(ProcessStartInfo start)
    {
        _process = new Process { StartInfo = start };
        _process.OutputDataReceived += (_, line) => Output.Add(line.Data);
        _process.ErrorDataReceived += (_, line) => Errors.Add(line.Data);
        _process.Start();
        _process.BeginOutputReadLine();
        _process.BeginErrorReadLine();
    }

    /// <summary>The program of this build.</summary>
    public static string Built { get; } = Path.Combine(AppContext.BaseDirectory, "axletelemetry");

    public bool HasEnded => _process.HasExited;

    /// <summary>Its process id.</summary>
    public int Id => _process.Id;

    public Lines Output { get; } = new();

    public Lines Errors { get; } = new();

    public static RunningProgram Start(string file, params string[] arguments) =>
        new(new ProcessStartInfo(file, arguments) { RedirectStandardOutput = true, RedirectStandardError = true, RedirectStandardInput = true });

    /// <summary>A program that stands in a directory.</summary>
    public static RunningProgram StartIn(string directory, string file, IEnumerable<string> arguments) =>
        new(new ProcessStartInfo(file, arguments) { WorkingDirectory = directory, RedirectStandardOutput = true, RedirectStandardError = true, RedirectStandardInput = true });

    /// <summary>The command line of this build.</summary>
    public static RunningProgram Build(params string[] arguments) => Start(Built, arguments);

    public static RunningProgram Watch(params string[] arguments) => Build(["watch", .. arguments]);

    /// <summary>Writes lines to its input, and ends it.</summary>
    public async Task Feed(IEnumerable<string> lines)
    {
        foreach (var line in lines) await _process.StandardInput.WriteLineAsync(line);
        _process.StandardInput.Close();
    }

    /// <summary>As Ctrl-C does; or any other signal.</summary>
    public async Task Signal(string signal)
    {
        await using var kill = Start("/bin/kill", $"-{signal}", _process.Id.ToString(CultureInfo.InvariantCulture));
        Assert.Equal(0, await kill.Exit());
    }

    /// <summary>Kills it, and waits for its end; nothing where it has ended by itself.</summary>
    public Task<int> Kill()
    {
        _process.Kill();
        return Exit();
    }

    /// <summary>Waits for its end.</summary>
    public Task<int> Exit() => Exit(Deadline);

    /// <summary>Waits for its end, not longer than stated.</summary>
    public async Task<int> Exit(TimeSpan longest)
    {
        using var deadline = new CancellationTokenSource(longest);
        await _process.WaitForExitAsync(deadline.Token);
        return _process.ExitCode;
    }

    public async ValueTask DisposeAsync()
    {
        if (!_process.HasExited) _process.Kill(entireProcessTree: true);
        await _process.WaitForExitAsync();
        _process.Dispose();
    }
}
