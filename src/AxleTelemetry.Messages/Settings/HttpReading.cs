using AxleTelemetry.Messages.VehicleFiles;

namespace AxleTelemetry.Messages.Settings;

/// <summary>Reads where pages are served, and holds that only this machine reaches them without a token.</summary>
internal sealed class HttpReading(Problems problems)
{
    private const string DefaultListen = "127.0.0.1:8080";

    /// <summary>The settings, or <c>null</c> where the address is in error.</summary>
    public HttpSettings? Read(Node? http)
    {
        var listen = Listen(problems, http, DefaultListen);
        if (listen is { IsLoopback: false } && !http!.Has("api_token_file"))
            problems.Add(ProblemKind.NeededWith, http.PathOf("api_token_file"), "",
                $"Others reach {listen}, so 'api_token_file' is needed. Without one only {DefaultListen} or another port of this machine alone is right.");
        return listen is null ? null : new HttpSettings(listen, http?.Text("api_token_file"));
    }

    /// <summary>The address of a part that listens; <c>null</c> with a problem where it is none.</summary>
    public static ListenAddress? Listen(Problems problems, Node? part, string otherwise)
    {
        if (part is null || !part.Has("listen")) return ListenAddress.Parse(otherwise);
        if (part.Text("listen") is not { } text) return null;
        if (ListenAddress.Parse(text) is { } address) return address;
        problems.Add(ProblemKind.BadText, part.PathOf("listen"), $"'{text}'", $"Right is {ListenAddress.Rule}.");
        return null;
    }
}
