namespace AxleTelemetry.Messages.VehicleFiles;

/// <summary>The known name that a misspelt one was probably meant to be.</summary>
internal static class Nearest
{
    private const int LongestName = 64;

    /// <summary>The nearest known name by edit distance; <c>null</c> where none is near.</summary>
    public static string? To(string name, IEnumerable<string> known)
    {
        if (name.Length > LongestName) return null;
        string? best = null;
        // A third of the letters wrong is still a slip; more is another word.
        var least = Math.Max(2, name.Length / 3) + 1;
        foreach (var candidate in known)
        {
            // The commonest slip is a name without its unit.
            var distance = candidate.StartsWith(name + "_", StringComparison.OrdinalIgnoreCase)
                ? 1
                : Distance(name.ToLowerInvariant(), candidate.ToLowerInvariant());
            if (distance >= least) continue;
            least = distance;
            best = candidate;
        }

        return best;
    }

    /// <summary>Levenshtein distance: fewest letters to insert, delete or replace.</summary>
    public static int Distance(string a, string b)
    {
        var row = new int[b.Length + 1];
        for (var j = 0; j <= b.Length; j++) row[j] = j;
        for (var i = 1; i <= a.Length; i++)
        {
            var diagonal = row[0];
            row[0] = i;
            for (var j = 1; j <= b.Length; j++)
            {
                var above = row[j];
                var replaced = diagonal + (a[i - 1] == b[j - 1] ? 0 : 1);
                row[j] = Math.Min(replaced, 1 + Math.Min(above, row[j - 1]));
                diagonal = above;
            }
        }

        return row[b.Length];
    }
}
