using System.Text;
using System.Text.Json;
using AxleTelemetry.Messages.Settings;
using AxleTelemetry.Service.Configuring;
using AxleTelemetry.Service.Delivering;
using AxleTelemetry.Service.Drives;
using AxleTelemetry.Service.Accounting;
using AxleTelemetry.Service.Auditing;
using AxleTelemetry.Service.Events;
using AxleTelemetry.Service.Health;
using AxleTelemetry.Service.Inspecting;
using AxleTelemetry.Service.Metering;
using AxleTelemetry.Service.Overview;
using AxleTelemetry.Service.Planning;
using AxleTelemetry.Service.Register;
using AxleTelemetry.Service.Sighting;
using AxleTelemetry.Service.Telling;
using AxleTelemetry.Web;
using AxleTelemetry.Web.Accounts;
using AxleTelemetry.Web.Frame;
using AxleTelemetry.Web.People;
using AxleTelemetry.Web.Sight;
using Microsoft.AspNetCore.Hosting.StaticWebAssets;
using Microsoft.AspNetCore.HttpOverrides;
using OpenTelemetry.Metrics;

namespace AxleTelemetry.Service.Serving;

/// <summary>Pages and the interface for programs, over the shards. Wiring only.</summary>
internal static class HttpHost
{
    private const string Program = "axletelemetry";
    private const int MostBodyBytes = 64 << 10, DaysOfYear = 366;

    /// <summary>The web application, not started yet.</summary>
    /// <param name="configuration">Tokens, what is kept and where.</param>
    /// <param name="listen">Where; port 0 for any that is free.</param>
    /// <param name="desks">The shards.</param>
    /// <param name="around">Clock and log.</param>
    /// <param name="isDemonstration">The fleet is invented.</param>
    /// <exception cref="InvalidOperationException">Others would reach a demonstration, which asks nobody who he is.</exception>
    public static WebApplication Build(ServiceConfiguration configuration, ListenAddress listen, Desks desks, (TimeProvider Clock, Action<ILoggingBuilder> Log) around, bool isDemonstration = false)
    {
        if (!listen.IsLoopback && isDemonstration) throw new InvalidOperationException($"Others reach {listen}: a demonstration is for this machine alone.");
        // Nothing but our own settings says where we listen: no environment variable, no file beside the program.
        var builder = WebApplication.CreateEmptyBuilder(new WebApplicationOptions { ApplicationName = Program, ContentRootPath = AppContext.BaseDirectory });
        // From build output scripts and styles lie where they were built, published beside the program; never where it is started from.
        StaticWebAssetsLoader.UseStaticWebAssets(builder.Environment, builder.Configuration);
        builder.WebHost.UseKestrelCore().ConfigureKestrel(kestrel =>
        {
            kestrel.AddServerHeader = false;
            kestrel.Limits.MaxRequestBodySize = MostBodyBytes;
            kestrel.Listen(listen.Address, listen.Port);
        });
        around.Log(builder.Logging);
        var map = configuration.Settings.Http.MapTiles is { } tiles ? new MapPictures(tiles.Url, tiles.Attribution, tiles.MostZoom) : null;
        builder.Services.AddWebPages(new FrameSettings(isDemonstration) { Map = map });
        var keptDays = configuration.Settings.Bounds.RegisterYears * DaysOfYear;
        builder.Services.AddPeople(new PeopleSettings
        {
            Directory = configuration.DataDirectory, PublicAddress = configuration.Settings.Http.PublicAddress, SignsInByItself = isDemonstration, Tokens = KnownTokens.Of(configuration), AccessDays = configuration.Settings.Bounds.RawDays, EventDays = keptDays,
            OpenId = isDemonstration ? null : OpenIdOf(configuration),
        });
        AddServices(builder.Services, desks, around.Clock, keptDays);
        var app = builder.Build();
        app.Use(next => new SecurityHeaders(map?.Origin, next).InvokeAsync);
        app.Use(next => new FaultAnswer(next, app.Logger).InvokeAsync);
        if (configuration.Settings.Http.PublicAddress is { } address)
        {
            // Whoever stands in front on this machine says from where somebody asks; of others it is not believed.
            app.UseForwardedHeaders(new ForwardedHeadersOptions { ForwardedHeaders = ForwardedHeaders.XForwardedFor });
            app.Use(next => new PublicAddress(address, next).InvokeAsync);
        }

        app.Use(next => new AccessGuard(configuration.Settings.Http with { Listen = listen }, next).InvokeAsync);
        app.UseRouting();
        app.UsePeople();
        Map(app);
        // The instruments are there from the start, not from the first look.
        app.Services.GetRequiredService<ServiceMeter>();
        return app;
    }

    private static OpenIdProvider? OpenIdOf(ServiceConfiguration configuration) => configuration is { Settings.Http.OpenId: { } provider, OpenIdSecret: { } secret }
        ? new OpenIdProvider(provider.Name, provider.Authority, provider.ClientId, () => Encoding.UTF8.GetString(secret.Reveal())) { RolesClaim = provider.RolesClaim, Roles = provider.Roles }
        : null;

    private static void AddServices(IServiceCollection services, Desks desks, TimeProvider clock, int keptDays)
    {
        services.AddRouting();
        services.ConfigureHttpJsonOptions(o => JsonText.Apply(o.SerializerOptions));
        services.AddOpenApi("v1", OpenApiSetup.Configure);
        services.AddSingleton(desks).AddSingleton(clock).AddSingleton<CombinationShelf>().AddSingleton<ServiceMeter>();
        services.AddSingleton(s => new Listeners(keptDays, s.GetRequiredService<IHostApplicationLifetime>().ApplicationStopping));
        services.AddSingleton<NowBoard>().AddSingleton<INowSight>(s => s.GetRequiredService<NowBoard>()).AddHostedService(s => s.GetRequiredService<NowBoard>());
        services.AddSingleton<VehicleSight>().AddScoped<IVehicleSight>(s => ActivatorUtilities.CreateInstance<GuardedVehicleSight>(s, s.GetRequiredService<VehicleSight>()));
        services.AddSingleton<IRegisterSight, RegisterSight>().AddSingleton<IPlanSight, PlanSight>();
        services.AddSingleton<FleetFigureBoard>().AddHostedService(s => s.GetRequiredService<FleetFigureBoard>());
        if (Environment.GetEnvironmentVariable("OTEL_EXPORTER_OTLP_ENDPOINT") is { Length: > 0 })
            services.AddOpenTelemetry().WithMetrics(metrics => metrics.AddMeter(ServiceMeter.Name).AddOtlpExporter());
    }

    private static void Map(WebApplication app)
    {
        var api = app.MapGroup("/api/v1");
        VehicleRoutes.Map(api);
        PlanRoutes.Map(api);
        LoadHistoryRoutes.Map(api);
        MessageRoutes.Map(api);
        AlertRoutes.Map(api);
        DeliveryRoutes.Map(api);
        RegisterRoutes.Map(api);
        AccountRoutes.Map(api);
        RefusalRoutes.Map(api);
        EventRoutes.Map(api);
        AuditRoutes.Map(api);
        HealthRoutes.Map(app);
        MetricRoutes.Map(app);
        app.MapOpenApi("/openapi/{documentName}.json").Needs(Right.Look);
        app.MapGet("/", () => Results.Redirect("/now")).Needs(Right.Look).ExcludeFromDescription();
        app.MapPeople();
        app.MapWebPages(Path.Combine(AppContext.BaseDirectory, $"{Program}.staticwebassets.endpoints.json"));
        app.MapFallback(() => Problem.NotFound("There is no such address.")).Needs(Right.Look).ExcludeFromDescription();
    }
}
