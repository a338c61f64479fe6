using System.Text;

namespace AxleTelemetry.Messages.Payloads;

/// <summary>
/// The mark of one start of a device: 1 to 16 visible ASCII characters, kept in place so that a message costs no string.
/// <c>default</c> is no boot id.
/// </summary>
public readonly record struct BootId
{
    /// <summary>The rule in words.</summary>
    public const string Rule = "1 to 16 visible ASCII characters, new at each start of the device";

    private const int MaxLength = 16;
    private readonly UInt128 bytes;

    private BootId(UInt128 bytes) => this.bytes = bytes;

    /// <summary>The boot id of UTF-8 bytes, or <c>null</c> when they break the rule.</summary>
    public static BootId? From(ReadOnlySpan<byte> utf8)
    {
        if (utf8.Length is 0 or > MaxLength || utf8.ContainsAnyExceptInRange((byte)'!', (byte)'~')) return null;
        UInt128 packed = 0;
        foreach (var b in utf8) packed = packed << 8 | b;
        return new BootId(packed);
    }

    /// <summary>The characters as sent.</summary>
    public override string ToString()
    {
        var text = new StringBuilder(MaxLength);
        for (var rest = bytes; rest != 0; rest >>= 8) text.Insert(0, (char)(byte)rest);
        return text.ToString();
    }
}
