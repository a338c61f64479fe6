using System.Security.Cryptography;
using System.Text;
using AxleTelemetry.Service.Configuring;

namespace AxleTelemetry.Service.Delivering;

/// <summary>
/// Signs as Standard Webhooks 1.0.0 has it (standardwebhooks.com, symmetric signatures): HMAC-SHA256 over id, time and body with points between, in base64
/// behind <c>v1,</c>; the key is what stands behind <c>whsec_</c> in base64. Has no text that shows the key.
/// </summary>
internal sealed class WebhookSecret
{
    private const string Prefix = "whsec_";
    private const int Least = 24, Most = 64;

    private readonly byte[] _key;

    private WebhookSecret(byte[] key) => _key = key;

    /// <summary>What a secret looks like.</summary>
    public static string Rule => $"The first line is {Prefix} and {Least} to {Most} bytes in base64. One can be made with: echo {Prefix}$(openssl rand -base64 32)";

    /// <summary>Reads a secret; <c>null</c> where it is none.</summary>
    public static WebhookSecret? Read(Secret secret)
    {
        var text = Encoding.UTF8.GetString(secret.Reveal());
        if (!text.StartsWith(Prefix, StringComparison.Ordinal)) return null;
        var key = new byte[text.Length];
        return Convert.TryFromBase64String(text[Prefix.Length..], key, out var length) && length is >= Least and <= Most ? new WebhookSecret(key[..length]) : null;
    }

    /// <summary>The signature of a body.</summary>
    /// <param name="id">What the message is known by.</param>
    /// <param name="seconds">When it is sent: seconds since 1970.</param>
    /// <param name="body">The body as it is sent.</param>
    public string Sign(string id, long seconds, ReadOnlySpan<byte> body)
    {
        byte[] signed = [.. Encoding.UTF8.GetBytes(FormattableString.Invariant($"{id}.{seconds}.")), .. body];
        return "v1," + Convert.ToBase64String(HMACSHA256.HashData(_key, signed));
    }

    /// <inheritdoc/>
    public override string ToString() => "(secret)";
}
