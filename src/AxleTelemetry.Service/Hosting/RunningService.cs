using System.Net;
using System.Net.Http.Headers;
using System.Text;
using System.Text.Json;
using AxleTelemetry.Messages.Settings;
using AxleTelemetry.Service.Commands;
using AxleTelemetry.Service.Configuring;

namespace AxleTelemetry.Service.Hosting;

/// <summary>A service that runs, reached through its own interface.</summary>
internal sealed class RunningService(ServicePlace place, TextWriter output, TextWriter error)
{
    private static readonly TimeSpan Longest = TimeSpan.FromSeconds(30);

    /// <summary>Lets lanes of a shard go on; without vehicles lists those that stopped.</summary>
    public Task<int> ResumeAsync((string Name, string[] Wanted) shard, CancellationToken cancel) => AskAsync("The journal is in use, and the service that uses it does not answer", async client =>
    {
        if (shard.Wanted.Length == 0) return await ListAsync(client, shard.Name, cancel);
        var code = ExitCode.Done;
        foreach (var vehicle in shard.Wanted) code = Math.Max(code, await ResumeAsync(client, vehicle, cancel));
        return code;
    }, cancel);

    /// <summary>Whether it takes and commits messages, with every sentence it has about itself.</summary>
    public Task<int> HealthAsync(CancellationToken cancel) => AskAsync("No service answers", async client =>
    {
        using var answer = await client.GetAsync(new Uri("/health", UriKind.Relative), cancel);
        if (answer.StatusCode is not (HttpStatusCode.OK or HttpStatusCode.ServiceUnavailable)) return await RefusedAsync(answer, cancel);
        using var health = JsonDocument.Parse(await answer.Content.ReadAsStringAsync(cancel));
        foreach (var reason in health.RootElement.GetProperty("reasons").EnumerateArray()) await output.WriteLineAsync(reason.GetProperty("sentence").GetString());
        return health.RootElement.GetProperty("ready").GetBoolean() ? ExitCode.Done : ExitCode.Suspicious;
    }, cancel);

    private async Task<int> AskAsync(string unanswered, Func<HttpClient, Task<int>> ask, CancellationToken cancel)
    {
        using var client = new HttpClient { BaseAddress = new Uri($"http://{Near(place.Listen)}"), Timeout = Longest };
        if ((CommandToken.Read(place.DataDirectory) ?? place.ApiToken) is { } token) client.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", Encoding.UTF8.GetString(token.Reveal()));
        try
        {
            return await ask(client);
        }
        catch (Exception unreachable) when (unreachable is HttpRequestException or JsonException || unreachable is TaskCanceledException && !cancel.IsCancellationRequested)
        {
            await error.WriteLineAsync($"{unanswered} at {client.BaseAddress}: {unreachable.Message}");
            return ExitCode.BadInput;
        }
    }

    // An address that stands for all of this machine's is asked on the one that never leaves it.
    private static ListenAddress Near(ListenAddress listen) => listen.Address.Equals(IPAddress.Any) ? listen with { Address = IPAddress.Loopback }
        : listen.Address.Equals(IPAddress.IPv6Any) ? listen with { Address = IPAddress.IPv6Loopback } : listen;

    private async Task<int> ListAsync(HttpClient client, string shard, CancellationToken cancel)
    {
        using var answer = await client.GetAsync(new Uri("/health", UriKind.Relative), cancel);
        // One that is not ready says so with a status of its own, and lists its lanes all the same.
        if (answer.StatusCode is not (HttpStatusCode.OK or HttpStatusCode.ServiceUnavailable)) return await RefusedAsync(answer, cancel);
        using var health = JsonDocument.Parse(await answer.Content.ReadAsStringAsync(cancel));
        string[] stopped = [.. health.RootElement.GetProperty("reasons").EnumerateArray()
            .Where(r => r.GetProperty("shard").GetString() == shard && r.GetProperty("what").GetString() == "lane").Select(r => r.GetProperty("sentence").GetString()!)];
        if (stopped.Length == 0) await output.WriteLineAsync("No lane has stopped.");
        foreach (var sentence in stopped) await output.WriteLineAsync(sentence);
        return ExitCode.Done;
    }

    private async Task<int> ResumeAsync(HttpClient client, string vehicle, CancellationToken cancel)
    {
        using var nothing = new StringContent("{}", Encoding.UTF8, "application/json");
        var path = string.Join('/', vehicle.Split('/').Select(Uri.EscapeDataString));
        using var answer = await client.PostAsync(new Uri($"/api/v1/vehicles/{path}/resume", UriKind.Relative), nothing, cancel);
        if (answer.StatusCode == HttpStatusCode.Conflict) await output.WriteLineAsync($"The lane of {vehicle} had not stopped.");
        else if (answer.IsSuccessStatusCode) await output.WriteLineAsync($"The lane of {vehicle} runs again; its history follows beside the live work, and /health says whether it stops again.");
        else return await RefusedAsync(answer, cancel);
        return ExitCode.Done;
    }

    private async Task<int> RefusedAsync(HttpResponseMessage answer, CancellationToken cancel)
    {
        var text = await answer.Content.ReadAsStringAsync(cancel);
        await error.WriteLineAsync(FormattableString.Invariant($"The service refuses it ({(int)answer.StatusCode}): {Detail(text)}"));
        return ExitCode.BadInput;
    }

    private static string Detail(string text)
    {
        try
        {
            using var problem = JsonDocument.Parse(text);
            return problem.RootElement.TryGetProperty("detail", out var detail) ? detail.GetString() ?? text : text;
        }
        catch (JsonException)
        {
            return text;
        }
    }
}

/// <summary>Where a service is found by commands on its machine.</summary>
/// <param name="Listen">Where it serves.</param>
/// <param name="DataDirectory">Where it leaves the token that commands ask with.</param>
/// <param name="ApiToken">What to ask with where it could leave none.</param>
internal sealed record ServicePlace(ListenAddress Listen, string DataDirectory, Secret? ApiToken)
{
    public static ServicePlace Of(ServiceConfiguration configuration) => new(configuration.Settings.Http.Listen, configuration.DataDirectory, configuration.ApiToken);
}
