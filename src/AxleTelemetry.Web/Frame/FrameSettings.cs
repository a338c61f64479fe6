namespace AxleTelemetry.Web.Frame;

/// <summary>What the frame is told by the service.</summary>
/// <param name="IsDemonstration">The fleet is invented, and whoever sits at this machine is signed in.</param>
public sealed record FrameSettings(bool IsDemonstration)
{
    /// <summary>Pictures that the map is laid on; <c>null</c> for none.</summary>
    public MapPictures? Map { get; init; }
}

/// <summary>Pictures of a map in squares of 256 pixels (EPSG:3857).</summary>
/// <param name="Url">Address with <c>{z}</c>, <c>{x}</c> and <c>{y}</c> in it.</param>
/// <param name="Attribution">Whose they are.</param>
/// <param name="MostZoom">The finest level that there is.</param>
public sealed record MapPictures(string Url, string Attribution, int MostZoom)
{
    /// <summary>Where they are fetched from, as a content security policy names it.</summary>
    public string Origin => new Uri(Url.Replace("{z}", "0").Replace("{x}", "0").Replace("{y}", "0")).GetLeftPart(UriPartial.Authority);
}
