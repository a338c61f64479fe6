using AxleTelemetry.Messages.VehicleFiles;

namespace AxleTelemetry.Messages.Settings;

/// <summary>Reads where history is carried to.</summary>
internal sealed class SeriesReading(Problems problems)
{
    /// <summary>The settings; <c>null</c> where there are none, or something is in error.</summary>
    public SeriesSettings? Read(Node? node)
    {
        if (node?.Text("url") is not { } url || node.Text("organisation") is not { } organisation || node.Text("bucket") is not { } bucket || node.Text("token_file") is not { } token) return null;
        if (!Uri.TryCreate(url, UriKind.Absolute, out var address) || address.Scheme is not ("http" or "https") || address.UserInfo.Length > 0 || address.Query.Length > 0)
        {
            problems.Add(ProblemKind.BadText, node.PathOf("url"), address?.UserInfo.Length > 0 ? "an address with a user in it" : $"'{url}'",
                "Right is an address alone, such as http://127.0.0.1:8086; the token stands in the file that 'token_file' names.");
            return null;
        }

        if (address.Scheme == "http" && !address.IsLoopback)
            problems.Add(ProblemKind.Readable, node.PathOf("url"), $"'{url}'", "The token crosses the network unencrypted. Use https where the database can.");
        return new SeriesSettings(address, organisation, bucket, token);
    }
}
