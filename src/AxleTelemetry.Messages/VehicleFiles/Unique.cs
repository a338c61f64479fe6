namespace AxleTelemetry.Messages.VehicleFiles;

/// <summary>Keys and names that must not come twice.</summary>
internal static class Unique
{
    public static void Check(Problems problems, IEnumerable<(string? Key, string Path)> keys, string what)
    {
        var seen = new Dictionary<string, string>();
        foreach (var (key, path) in keys)
            if (key is not null && !seen.TryAdd(key, path))
                problems.Add(ProblemKind.NotUnique, path, $"'{key}'", $"Each {what} needs a name of its own; this one is taken at {seen[key]}.");
    }
}
