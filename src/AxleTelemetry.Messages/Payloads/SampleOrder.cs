using AxleTelemetry.Domain.Readings;

namespace AxleTelemetry.Messages.Payloads;

/// <summary>
/// Brings the readings of one sample into order. They come nearly in order, so small samples are sorted by insertion,
/// which then costs one comparison each; large ones by the library, so that no device can make it quadratic.
/// </summary>
internal static class SampleOrder
{
    private const int Small = 32;

    public static void Sort(Span<Reading> sample)
    {
        if (sample.Length <= Small) Insert(sample);
        else sample.Sort(Compare);
    }

    private static void Insert(Span<Reading> sample)
    {
        for (var i = 1; i < sample.Length; i++)
        {
            if (Compare(sample[i - 1], sample[i]) <= 0) continue;
            var moved = sample[i];
            var j = i;
            for (; j > 0 && Compare(sample[j - 1], moved) > 0; j--) sample[j] = sample[j - 1];
            sample[j] = moved;
        }
    }

    // The same order as Reading.CompareTo within one moment.
    private static int Compare(Reading a, Reading b)
    {
        int left = (int)a.Kind << 16 | a.Key, right = (int)b.Kind << 16 | b.Key;
        return left == right ? a.Value.CompareTo(b.Value) : left - right;
    }
}
