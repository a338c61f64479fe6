using System.Buffers.Text;
using System.Diagnostics.CodeAnalysis;
using System.Globalization;
using System.Security.Cryptography;

namespace AxleTelemetry.Service.Receiving;

/// <summary>What is kept of a device's password: a salted hash, written <c>pbkdf2-sha256:rounds:salt:hash</c>.</summary>
internal sealed class DevicePassword
{
    private const string Scheme = "pbkdf2-sha256";
    // A fleet connects again all at once after a break: enough to slow guessing, little enough for that.
    private const int Rounds = 20_000, MostRounds = 10_000_000, SaltBytes = 16, HashBytes = 32;

    private readonly int _rounds;
    private readonly byte[] _salt, _hash;

    private DevicePassword(int rounds, byte[] salt, byte[] hash) => (_rounds, _salt, _hash) = (rounds, salt, hash);

    /// <summary>Keeps a password.</summary>
    public static DevicePassword Of(ReadOnlySpan<byte> password)
    {
        var salt = RandomNumberGenerator.GetBytes(SaltBytes);
        return new DevicePassword(Rounds, salt, Hash(password, salt, Rounds));
    }

    /// <summary>Reads what <see cref="Written"/> wrote.</summary>
    public static bool TryRead(string text, [NotNullWhen(true)] out DevicePassword? password)
    {
        password = null;
        var parts = text.Split(':');
        if (parts.Length != 4 || parts[0] != Scheme) return false;
        if (!int.TryParse(parts[1], NumberStyles.None, CultureInfo.InvariantCulture, out var rounds) || rounds is < 1 or > MostRounds) return false;
        if (!Base64.IsValid(parts[2]) || !Base64.IsValid(parts[3])) return false;
        var hash = Convert.FromBase64String(parts[3]);
        if (hash.Length != HashBytes) return false;
        password = new DevicePassword(rounds, Convert.FromBase64String(parts[2]), hash);
        return true;
    }

    /// <summary>Whether this is the password.</summary>
    public bool Is(ReadOnlySpan<byte> password) => CryptographicOperations.FixedTimeEquals(Hash(password, _salt, _rounds), _hash);

    /// <summary>For the configuration file.</summary>
    public string Written() => string.Create(CultureInfo.InvariantCulture, $"{Scheme}:{_rounds}:{Convert.ToBase64String(_salt)}:{Convert.ToBase64String(_hash)}");

    private static byte[] Hash(ReadOnlySpan<byte> password, byte[] salt, int rounds) => Rfc2898DeriveBytes.Pbkdf2(password, salt, rounds, HashAlgorithmName.SHA256, HashBytes);
}
