using System.Xml.Linq;

namespace AxleTelemetry.Domain.Tests.Rules;

/// <summary>Which project may know which, and which package may appear where.</summary>
public sealed class ReferenceRules
{
    private static readonly Dictionary<string, string[]> Allowed = new()
    {
        ["Domain"] = [],
        ["Messages"] = ["Domain"],
        ["Places"] = ["Domain"],
        ["Storage"] = ["Domain"],
        ["Simulator"] = ["Messages", "Domain"],
        ["Service"] = ["Domain", "Messages", "Places", "Simulator", "Storage", "Web"],
        ["Web"] = ["Domain", "Storage"],
    };

    private static readonly Dictionary<string, string[]> OnlyIn = new()
    {
        ["Microsoft.Data.Sqlite"] = ["Storage"],
        ["MQTTnet"] = ["Service", "Simulator"],
        ["MQTTnet.Server"] = ["Service"],
        ["Microsoft.AspNetCore.Identity.EntityFrameworkCore"] = ["Web"],
        ["Microsoft.EntityFrameworkCore.Sqlite"] = ["Web"],
        ["Microsoft.AspNetCore.OpenApi"] = ["Service"],
        ["OpenTelemetry.Exporter.OpenTelemetryProtocol"] = ["Service"],
        ["OpenTelemetry.Extensions.Hosting"] = ["Service"],
        ["NetTopologySuite"] = ["Places"],
        ["Microsoft.AspNetCore.Components.QuickGrid"] = ["Web"],
        ["Vizor.ECharts"] = ["Web"],
        ["InfluxDB.Client"] = ["Storage"],
        ["Polly.Core"] = ["Service", "Storage"],
        ["Serilog.AspNetCore"] = ["Service"],
        ["SkiaSharp"] = ["Service"],
        ["SkiaSharp.NativeAssets.Linux.NoDependencies"] = ["Service"],
        ["Spectre.Console"] = ["Service"],
        ["System.CommandLine"] = ["Service"],
    };

    [Fact]
    public void Projects_reference_only_what_they_may()
    {
        foreach (var (project, file) in Projects())
        {
            var references = file.Descendants("ProjectReference").Select(r => ShortName(r.Attribute("Include")!.Value));
            Assert.All(references, r => Assert.Contains(r, Allowed[project]));
        }
    }

    [Fact]
    public void Packages_appear_only_where_they_may()
    {
        foreach (var (project, file) in Projects())
        {
            foreach (var package in file.Descendants("PackageReference").Select(p => p.Attribute("Include")!.Value))
            {
                if (project == "Domain") Assert.Equal("Microsoft.CodeAnalysis.BannedApiAnalyzers", package);
                if (OnlyIn.TryGetValue(package, out var where)) Assert.Contains(project, where);
            }
        }
    }

    [Fact]
    public void What_is_run_from_the_root_starts_there() =>
        // The web SDK would start 'dotnet run --project ...' in the project: the README's paths would then name nothing.
        Assert.Equal("false", Projects().Single(p => p.Name == "Service").File.Descendants("EnableDefaultRunWorkingDirectory").Single().Value);

    private static IEnumerable<(string Name, XDocument File)> Projects()
    {
        var projects = Directory.GetFiles(Path.Combine(Scenarios.Repository.Root, "src"), "*.csproj", SearchOption.AllDirectories);
        Assert.NotEmpty(projects);
        return projects.Select(p => (ShortName(p), XDocument.Load(p)));
    }

    private static string ShortName(string path) => Path.GetFileNameWithoutExtension(path.Replace('\\', '/'))["AxleTelemetry.".Length..];
}
