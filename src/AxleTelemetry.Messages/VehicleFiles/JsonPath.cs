using System.Globalization;

namespace AxleTelemetry.Messages.VehicleFiles;

/// <summary>Names of places in a file: <c>$.axles[1].rating_kg</c>.</summary>
internal static class JsonPath
{
    /// <summary>The whole file.</summary>
    public const string Root = "$";

    private const int LongestName = 80;

    /// <summary>A property of the object at a path.</summary>
    public static string Of(string path, string name)
    {
        if (name.Length > LongestName) name = name[..LongestName] + "...";
        return name.All(c => char.IsAsciiLetterOrDigit(c) || c is '_' or '-' or '$') && name.Length > 0 ? $"{path}.{name}" : $"{path}['{name}']";
    }

    /// <summary>An entry of the list at a path.</summary>
    public static string Of(string path, int index) => $"{path}[{index.ToString(CultureInfo.InvariantCulture)}]";
}
