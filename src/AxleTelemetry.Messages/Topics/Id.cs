using System.Buffers;

namespace AxleTelemetry.Messages.Topics;

/// <summary>The rule for ids of fleets, vehicles and trailers: 1 to 64 of A-Z a-z 0-9 . _ -</summary>
public static class Id
{
    /// <summary>The most characters an id has.</summary>
    public const int MaxLength = 64;

    /// <summary>The rule in words.</summary>
    public const string Rule = "1 to 64 of A-Z a-z 0-9 . _ -";

    private const string Allowed = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789._-";
    private static readonly SearchValues<char> Characters = SearchValues.Create(Allowed);
    private static readonly SearchValues<byte> Bytes = SearchValues.Create(System.Text.Encoding.ASCII.GetBytes(Allowed));

    /// <summary>Whether text is an id.</summary>
    public static bool IsValid(ReadOnlySpan<char> text) =>
        text.Length is > 0 and <= MaxLength && !text.ContainsAnyExcept(Characters);

    /// <summary>Whether UTF-8 bytes are an id.</summary>
    public static bool IsValid(ReadOnlySpan<byte> utf8) =>
        utf8.Length is > 0 and <= MaxLength && !utf8.ContainsAnyExcept(Bytes);
}
