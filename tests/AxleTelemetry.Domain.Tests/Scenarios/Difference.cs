using System.Collections.Immutable;

namespace AxleTelemetry.Domain.Tests.Scenarios;

/// <summary>Two lists of lines side by side: what stayed is indented, what went has a minus, what came a plus.</summary>
internal static class Difference
{
    /// <summary>The difference; <c>null</c> where there is none.</summary>
    public static string? Of(ImmutableArray<string> before, ImmutableArray<string> now)
    {
        if (before.SequenceEqual(now)) return null;
        var common = Common(before, now);
        var lines = new List<string>();
        int b = 0, n = 0;
        while (b < before.Length || n < now.Length)
        {
            if (b < before.Length && n < now.Length && before[b] == now[n])
            {
                lines.Add("  " + now[n++]);
                b++;
            }
            else if (n == now.Length || (b < before.Length && common[b + 1, n] >= common[b, n + 1])) lines.Add("- " + before[b++]);
            else lines.Add("+ " + now[n++]);
        }

        return string.Join('\n', lines);
    }

    /// <summary>Length of the longest common rest from each pair of places.</summary>
    private static int[,] Common(ImmutableArray<string> before, ImmutableArray<string> now)
    {
        var length = new int[before.Length + 1, now.Length + 1];
        for (var b = before.Length - 1; b >= 0; b--)
            for (var n = now.Length - 1; n >= 0; n--)
                length[b, n] = before[b] == now[n] ? length[b + 1, n + 1] + 1 : Math.Max(length[b + 1, n], length[b, n + 1]);
        return length;
    }
}
