using System.Collections.Immutable;
using System.Security.Cryptography;
using System.Text;

namespace AxleTelemetry.Service.Configuring;

/// <summary>A password or token. Has no property and no text, so that no log, record or error can show it by accident.</summary>
internal sealed class Secret(string text)
{
    private readonly ImmutableArray<byte> _utf8 = [.. Encoding.UTF8.GetBytes(text)];

    /// <summary>The secret itself as UTF-8, to be sent and never to be written.</summary>
    public ReadOnlySpan<byte> Reveal() => _utf8.AsSpan();

    /// <summary>True for the same secret, in a time that does not tell how much of it was right.</summary>
    public bool Matches(ReadOnlySpan<byte> utf8)
    {
        Span<byte> own = stackalloc byte[SHA256.HashSizeInBytes], other = stackalloc byte[SHA256.HashSizeInBytes];
        SHA256.HashData(_utf8.AsSpan(), own);
        SHA256.HashData(utf8, other);
        return CryptographicOperations.FixedTimeEquals(own, other);
    }

    /// <summary>True where both are the same secret, or neither is one.</summary>
    public static bool Same(Secret? one, Secret? other) => one is null || other is null ? one == other : one.Matches(other.Reveal());

    /// <inheritdoc/>
    public override string ToString() => "(secret)";
}
