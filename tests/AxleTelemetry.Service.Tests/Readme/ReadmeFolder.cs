using System.Text;
using System.Text.RegularExpressions;
using AxleTelemetry.Service.Configuring;
using AxleTelemetry.Service.Tests.Crashing;
using AxleTelemetry.Service.Tests.Watching;

namespace AxleTelemetry.Service.Tests.Readme;

/// <summary>
/// The repository as a reader of the README has it, as far as its commands name it: a copy, so that nothing of the real one changes, whose
/// settings listen on free ports.
/// </summary>
internal sealed partial class ReadmeFolder : IDisposable
{
    private const int MostSaid = 2000;

    private readonly DirectoryInfo _root = Directory.CreateTempSubdirectory("readme-");

    public ReadmeFolder()
    {
        var examples = Path.Combine(AppContext.BaseDirectory, "examples");
        foreach (var file in Directory.EnumerateFiles(examples, "*", SearchOption.AllDirectories))
        {
            var copy = Path.Combine(_root.FullName, "deploy", "examples", Path.GetRelativePath(examples, file));
            Directory.CreateDirectory(Path.GetDirectoryName(copy)!);
            File.WriteAllText(copy, Moved(File.ReadAllText(file)));
        }
    }

    /// <summary>Where pages are served instead.</summary>
    public string Pages { get; } = FormattableString.Invariant($"127.0.0.1:{Mosquitto.FreePort()}");

    /// <summary>Where the broker inside listens instead.</summary>
    public int Broker { get; } = Mosquitto.FreePort();

    private string Data => Path.Combine(_root.FullName, "deploy", "examples", "service", "data");

    /// <summary>Runs a command of this program as the README writes it.</summary>
    public RunningProgram Run(string line, params string[] further) =>
        RunningProgram.StartIn(_root.FullName, RunningProgram.Built, [.. ReadmeText.Words(line[ReadmeText.Program.Length..]), .. further]);

    /// <summary>Waits until an address answers with a text.</summary>
    public async Task Answers(string path, Func<string, bool> holds)
    {
        // As the commands ask: by the token that the service writes beside its journal.
        using var client = new HttpClient();
        var last = "nothing";
        await Eventually.Holds(() => Get(client, path, ref last) && holds(last), () => $"http://{Pages}{path} says: {last[..Math.Min(last.Length, MostSaid)]}", TimeSpan.FromMilliseconds(50));
    }

    public void Dispose() => _root.Delete(recursive: true);

    private bool Get(HttpClient client, string path, ref string last)
    {
        try
        {
            using var request = new HttpRequestMessage(HttpMethod.Get, $"http://{Pages}{path}");
            if (CommandToken.Read(Data) is { } token) request.Headers.Authorization = new("Bearer", Encoding.UTF8.GetString(token.Reveal()));
            using var answer = client.Send(request, TestContext.Current.CancellationToken);
            using var text = new StreamReader(answer.Content.ReadAsStream(TestContext.Current.CancellationToken));
            last = text.ReadToEnd();
            return answer.IsSuccessStatusCode;
        }
        catch (HttpRequestException notYet)
        {
            last = notYet.Message;
            return false;
        }
    }

    private string Moved(string text) => BrokerOf().Replace(PagesOf().Replace(text, Pages), FormattableString.Invariant($"127.0.0.1:{Broker}"));

    [GeneratedRegex(@"127\.0\.0\.1:8080")]
    private static partial Regex PagesOf();

    [GeneratedRegex(@"127\.0\.0\.1:1883")]
    private static partial Regex BrokerOf();
}
