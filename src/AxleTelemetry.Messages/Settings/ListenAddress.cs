using System.Globalization;
using System.Net;

namespace AxleTelemetry.Messages.Settings;

/// <summary>An address with a port on which the service listens.</summary>
/// <param name="Address">The address.</param>
/// <param name="Port">1 to 65535.</param>
public sealed record ListenAddress(IPAddress Address, int Port)
{
    /// <summary>The rule in words.</summary>
    public const string Rule = "an address and a port, for example 127.0.0.1:8080, [::1]:8080, localhost:8080 or 0.0.0.0:8080";

    /// <summary>True where only this machine can reach it.</summary>
    public bool IsLoopback => IPAddress.IsLoopback(Address);

    /// <summary>An address of a text; <c>null</c> for another text.</summary>
    public static ListenAddress? Parse(string text)
    {
        var colon = text.LastIndexOf(':');
        if (colon <= 0 || !int.TryParse(text.AsSpan(colon + 1), NumberStyles.None, CultureInfo.InvariantCulture, out var port) || port is < 1 or > 65535) return null;
        return Host(text[..colon]) is { } address ? new(address, port) : null;
    }

    /// <inheritdoc/>
    public override string ToString() => new IPEndPoint(Address, Port).ToString();

    private static IPAddress? Host(string host)
    {
        if (host == "localhost") return IPAddress.Loopback;
        var bracketed = host.StartsWith('[') && host.EndsWith(']');
        if (!IPAddress.TryParse(bracketed ? host[1..^1] : host, out var address)) return null;
        // The platform takes 127.1 or 2130706433 for an address too; a person who writes that has slipped.
        var isIpv6 = address.AddressFamily == System.Net.Sockets.AddressFamily.InterNetworkV6;
        return bracketed == isIpv6 && (isIpv6 || address.ToString() == host) ? address : null;
    }
}
