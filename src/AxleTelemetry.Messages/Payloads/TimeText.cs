using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Messages.Payloads;

/// <summary>
/// Reads RFC 3339 times in UTC from 1970 to 9999 without allocation. Digits beyond the millisecond are cut. The zone is
/// <c>Z</c> or an offset of zero; other offsets are refused, since the contract says UTC. A leap second counts as the second after it.
/// </summary>
internal static class TimeText
{
    /// <summary>The rule in words.</summary>
    public const string Rule = "RFC 3339 in UTC such as 2026-03-02T06:14:05.000Z, or whole milliseconds since 1970";

    /// <summary>The last millisecond that four digits of year can write.</summary>
    public const long Last = 253_402_300_799_999;

    private const int SecondsEnd = 19;
    private const int MaxLength = 40;

    /// <summary>Reads a time, or says that it is none.</summary>
    public static bool TryRead(ReadOnlySpan<byte> text, out Moment moment)
    {
        moment = default;
        if (text.Length is <= SecondsEnd or > MaxLength) return false;
        if (text[4] != '-' || text[7] != '-' || (text[10] | 0x20) != 't' || text[13] != ':' || text[16] != ':') return false;
        int year = Two(text, 0) * 100 + Two(text, 2), month = Two(text, 5), day = Two(text, 8);
        int hour = Two(text, 11), minute = Two(text, 14), second = Two(text, 17);
        if ((year | month | day | hour | minute | second) < 0) return false;
        if (year is < 1970 or > 9999 || month is < 1 or > 12 || day < 1 || day > DateTime.DaysInMonth(year, month)) return false;
        if (hour > 23 || minute > 59 || second > 60 || (second == 60 && (hour != 23 || minute != 59))) return false;
        if (!TryFraction(text[SecondsEnd..], out var milliseconds, out var zone) || !IsUtc(text[(SecondsEnd + zone)..])) return false;
        var seconds = ((DaysTo(year, month, day) * 24 + hour) * 60 + minute) * 60 + second;
        moment = new Moment(seconds * 1000 + milliseconds);
        return moment.UnixMilliseconds <= Last;
    }

    // A negative result marks bytes that are no digits, and survives being or-ed and multiplied.
    private static int Two(ReadOnlySpan<byte> text, int at)
    {
        int tens = text[at] - '0', ones = text[at + 1] - '0';
        return (uint)tens > 9 || (uint)ones > 9 ? -10_000 : tens * 10 + ones;
    }

    private static bool TryFraction(ReadOnlySpan<byte> text, out int milliseconds, out int length)
    {
        milliseconds = 0;
        length = 0;
        if (text[0] != '.') return true;
        var weight = 100;
        for (length = 1; length < text.Length && (uint)(text[length] - '0') <= 9; length++, weight /= 10)
        {
            milliseconds += (text[length] - '0') * weight;
        }

        return length > 1;
    }

    private static bool IsUtc(ReadOnlySpan<byte> zone) =>
        zone.Length == 1 ? (zone[0] | 0x20) == 'z' : zone.SequenceEqual("+00:00"u8) || zone.SequenceEqual("-00:00"u8);

    // Days of the proleptic Gregorian calendar since 1970-01-01, counting years from March so that a leap day comes last.
    private static long DaysTo(int year, int month, int day)
    {
        var y = month <= 2 ? year - 1 : year;
        var dayOfYear = (153 * (month > 2 ? month - 3 : month + 9) + 2) / 5 + day - 1;
        return y * 365L + y / 4 - y / 100 + y / 400 + dayOfYear - 719_468;
    }
}
