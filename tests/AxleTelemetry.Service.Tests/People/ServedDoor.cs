using System.Net;
using System.Net.Http.Headers;
using AxleTelemetry.Messages.Settings;
using AxleTelemetry.Service.Configuring;
using AxleTelemetry.Service.Hosting;
using AxleTelemetry.Service.Serving;
using AxleTelemetry.Service.Tests.Configuring;
using AxleTelemetry.Web.Accounts;
using AxleTelemetry.Web.People;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.Extensions.DependencyInjection;
using Serilog;

namespace AxleTelemetry.Service.Tests.People;

/// <summary>A real host without fleets, with a <c>people.db</c> of its own and a log that is kept.</summary>
internal sealed class ServedDoor : IAsyncDisposable
{
    public const string Administrator = "ada", Password = "four plain words here";

    private readonly ServiceFolder _folder;
    private readonly bool _owns;
    private readonly StringWriter _log = new();

    private ServedDoor(ServiceFolder folder, bool owns) => (_folder, _owns) = (folder, owns);

    public WebApplication App { get; private set; } = null!;

    public Uri Address { get; private set; } = null!;

    public MovedClock Clock { get; } = new();

    public ServiceConfiguration Configuration => _folder.Loaded();

    /// <summary>What the service has logged so far.</summary>
    public string Log => _log.ToString();

    public static Task<ServedDoor> OpenAsync(Func<ServiceConfiguration, ServiceConfiguration>? changed = null, bool isDemonstration = false) => OpenAsync(new ServiceFolder(), changed, isDemonstration, owns: true);

    /// <summary>The same files served by a host with the settings as they are in them, or as they are changed.</summary>
    public Task<ServedDoor> AgainAsync(Func<ServiceConfiguration, ServiceConfiguration>? changed = null) => OpenAsync(_folder, changed, isDemonstration: false, owns: false);

    private static async Task<ServedDoor> OpenAsync(ServiceFolder folder, Func<ServiceConfiguration, ServiceConfiguration>? changed, bool isDemonstration, bool owns)
    {
        var door = new ServedDoor(folder, owns);
        var sink = LogSetup.Create(door._log, asJson: false);
        var configuration = changed?.Invoke(door.Configuration) ?? door.Configuration;
        door.App = HttpHost.Build(configuration, new ListenAddress(IPAddress.Loopback, 0), new Desks([]), (door.Clock, l => l.AddSerilog(sink, dispose: true)), isDemonstration);
        await door.App.StartAsync(TestContext.Current.CancellationToken);
        door.Address = new Uri(door.App.Services.GetRequiredService<IServer>().Features.Get<IServerAddressesFeature>()!.Addresses.Single());
        return door;
    }

    /// <summary>Somebody at a browser of his own, not signed in.</summary>
    public Browser Browser() => new(Address);

    /// <summary>The link that a first start writes; <c>null</c> where it writes none.</summary>
    public Task<string?> FirstLinkAsync() => App.Services.GetRequiredService<FirstStart>().LinkAsync();

    /// <summary>The first administrator, come in by the link of the first start.</summary>
    public async Task<Browser> AdministratorAsync()
    {
        var browser = Browser();
        var link = await FirstLinkAsync();
        Assert.NotNull(link);
        var answer = await browser.SubmitAsync(link, "one-time", ("name", Administrator), ("new-password", Password), ("again", Password));
        Assert.Equal(HttpStatusCode.Redirect, answer.Status);
        return browser;
    }

    /// <summary>A program with a token of a role.</summary>
    public async Task<(HttpClient Client, string Token)> ProgramAsync(string role, TimeSpan? life = null)
    {
        await using var scope = App.Services.CreateAsyncScope();
        var token = await scope.ServiceProvider.GetRequiredService<ProgramTokens>().MakeAsync($"of-{role}", role, life ?? TimeSpan.FromDays(1), "test");
        return (Program(token), token);
    }

    public HttpClient Program(string token)
    {
        var client = new HttpClient(new HttpClientHandler { AllowAutoRedirect = false, UseCookies = false }) { BaseAddress = Address };
        client.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", token);
        return client;
    }

    /// <summary>What happened to accounts, oldest first: what, who, whose.</summary>
    public async Task<(string What, string Who, string Subject)[]> EventsAsync()
    {
        await using var scope = App.Services.CreateAsyncScope();
        var events = await scope.ServiceProvider.GetRequiredService<IAccountLog>().ReadAsync(long.MaxValue, 1000, TestContext.Current.CancellationToken);
        return [.. events.Reverse().Select(e => (e.What, e.Who, e.Subject))];
    }

    /// <summary>Every byte that people.db holds, with what is still to be moved into it.</summary>
    public async Task<string> StoredAsync()
    {
        var all = "";
        foreach (var file in Directory.EnumerateFiles(Configuration.DataDirectory, "people.db*").Where(f => !f.EndsWith("-shm", StringComparison.Ordinal)))
        {
            await using var stream = new FileStream(file, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete);
            using var reader = new StreamReader(stream, System.Text.Encoding.Latin1);
            all += await reader.ReadToEndAsync(TestContext.Current.CancellationToken);
        }

        return all;
    }

    public async ValueTask DisposeAsync()
    {
        await App.StopAsync();
        await App.DisposeAsync();
        if (_owns) _folder.Dispose();
    }
}
