using System.Collections.Immutable;

namespace AxleTelemetry.Service.Serving;

/// <summary>The files of the page, held in the program itself, so that it works published and started from anywhere.</summary>
internal static class PageFiles
{
    private static readonly ImmutableDictionary<string, (string Resource, string Type)> Files = new Dictionary<string, (string, string)>
    {
        ["/"] = ("page/index.html", "text/html; charset=utf-8"),
        ["/page.js"] = ("page/page.js", "text/javascript; charset=utf-8"),
        ["/page.css"] = ("page/page.css", "text/css; charset=utf-8"),
    }.ToImmutableDictionary(StringComparer.Ordinal);

    public static bool Has(PathString path) => Files.ContainsKey(path.Value ?? "");

    public static void Map(IEndpointRouteBuilder routes)
    {
        foreach (var (path, (resource, type)) in Files)
            routes.MapGet(path, () => Results.Stream(Open(resource), type)).ExcludeFromDescription();
    }

    private static Stream Open(string resource) =>
        typeof(PageFiles).Assembly.GetManifestResourceStream(resource) ?? throw new InvalidOperationException($"The page's file {resource} is missing from the program.");
}
