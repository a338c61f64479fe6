using System.Net.Http.Headers;
using System.Text;
using AxleTelemetry.Service.Commands;
using AxleTelemetry.Service.Configuring;

namespace AxleTelemetry.Service.Hosting;

/// <summary>A service that runs, reached through its own interface.</summary>
internal sealed class RunningService(ServiceConfiguration configuration, TextWriter output, TextWriter error)
{
    /// <summary>Lets lanes go on; without vehicles says how it is.</summary>
    public async Task<int> ResumeAsync(IReadOnlyCollection<string> vehicles, CancellationToken cancel)
    {
        using var client = new HttpClient { BaseAddress = new Uri($"http://{configuration.Settings.Http.Listen}") };
        if (configuration.ApiToken is { } token) client.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", Encoding.UTF8.GetString(token.Reveal()));
        try
        {
            if (vehicles.Count == 0) await output.WriteLineAsync(await (await client.GetAsync(new Uri("/health", UriKind.Relative), cancel)).Content.ReadAsStringAsync(cancel));
            var code = ExitCode.Done;
            foreach (var vehicle in vehicles) code = Math.Max(code, await ResumeAsync(client, vehicle, cancel));
            return code;
        }
        catch (HttpRequestException unreachable)
        {
            await error.WriteLineAsync($"The journal is in use, and the service that uses it does not answer at {client.BaseAddress}: {unreachable.Message}");
            return ExitCode.BadInput;
        }
    }

    private async Task<int> ResumeAsync(HttpClient client, string vehicle, CancellationToken cancel)
    {
        using var nothing = new StringContent("{}", Encoding.UTF8, "application/json");
        using var answer = await client.PostAsync(new Uri($"/api/v1/vehicles/{vehicle}/resume", UriKind.Relative), nothing, cancel);
        await output.WriteLineAsync(answer.IsSuccessStatusCode ? $"The lane of {vehicle} runs again." : await answer.Content.ReadAsStringAsync(cancel));
        return answer.IsSuccessStatusCode ? ExitCode.Done : ExitCode.Suspicious;
    }
}
