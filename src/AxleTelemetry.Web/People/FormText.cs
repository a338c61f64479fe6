using Microsoft.AspNetCore.Http;

namespace AxleTelemetry.Web.People;

/// <summary>Fields of a form that was sent.</summary>
internal static class FormText
{
    public static string Field(this HttpContext http, string name) => http.Request.HasFormContentType ? http.Request.Form[name].ToString() : "";

    /// <summary>Every value of a field that may stand several times.</summary>
    public static IReadOnlyList<string> Fields(this HttpContext http, string name) => http.Request.HasFormContentType ? [.. http.Request.Form[name].OfType<string>()] : [];

    /// <summary>The path that somebody came from, where it is one of ours; the first page otherwise.</summary>
    public static string Back(string? path) => path is { Length: > 1 } && path[0] == '/' && path[1] is not ('/' or '\\') && !path.Any(char.IsControl) ? path : "/";
}
