using System.Buffers.Text;
using System.Security.Cryptography;
using System.Text;

namespace AxleTelemetry.Web.Accounts;

/// <summary>Codes of links and tokens: 256 bits of chance, so a plain hash keeps them as safely as a slow one would.</summary>
internal static class SecretCode
{
    private const int Bytes = 32;

    public static string New() => Base64Url.EncodeToString(RandomNumberGenerator.GetBytes(Bytes));

    public static string Hash(string code) => Convert.ToHexString(SHA256.HashData(Encoding.UTF8.GetBytes(code)));
}
