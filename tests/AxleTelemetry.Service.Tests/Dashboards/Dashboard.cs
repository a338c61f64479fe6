using System.Collections.Immutable;
using System.Text.Json;

namespace AxleTelemetry.Service.Tests.Dashboards;

/// <summary>A dashboard of the repository, as far as tests read it.</summary>
/// <param name="Name">Name of its file, without what follows the dot.</param>
/// <param name="Root">The whole file.</param>
internal sealed record Dashboard(string Name, JsonElement Root)
{
    /// <summary>Every dashboard that Grafana would be given.</summary>
    public static ImmutableArray<Dashboard> All { get; } =
        [.. Directory.GetFiles(Path.Combine(AppContext.BaseDirectory, "dashboards"), "*.json").Order(StringComparer.Ordinal).Select(f => new Dashboard(Path.GetFileNameWithoutExtension(f), JsonDocument.Parse(File.ReadAllBytes(f)).RootElement))];

    public ImmutableArray<Variable> Variables { get; } =
        [.. Root.GetProperty("templating").GetProperty("list").EnumerateArray().Select(v => new Variable(v.GetProperty("name").GetString()!, v.GetProperty("query").GetString()!, v.GetProperty("includeAll").GetBoolean(), v.TryGetProperty("allValue", out var all) ? all.GetString() : null))];

    public ImmutableArray<JsonElement> Panels { get; } = [.. Root.GetProperty("panels").EnumerateArray()];

    /// <summary>Every query of its panels.</summary>
    public IEnumerable<PanelQuery> Queries => Panels.SelectMany(p => p.GetProperty("targets").EnumerateArray().Select(t => new PanelQuery(this, p.GetProperty("title").GetString()!, t)));

    /// <summary>A variable of a dashboard.</summary>
    /// <param name="Name">Its name.</param>
    /// <param name="Query">What its values are asked for with.</param>
    /// <param name="IncludeAll">All values can be chosen at once.</param>
    /// <param name="AllValue">What stands for all of them; <c>null</c>: each by name.</param>
    internal sealed record Variable(string Name, string Query, bool IncludeAll, string? AllValue);
}

/// <summary>One query of a panel.</summary>
/// <param name="Dashboard">Whose it is.</param>
/// <param name="Panel">Title of its panel.</param>
/// <param name="Target">The target as it stands in the file.</param>
internal sealed record PanelQuery(Dashboard Dashboard, string Panel, JsonElement Target)
{
    public string Text => Target.GetProperty("query").GetString()!;

    public override string ToString() => $"{Dashboard.Name}: {Panel}: {Target.GetProperty("refId").GetString()}";
}
