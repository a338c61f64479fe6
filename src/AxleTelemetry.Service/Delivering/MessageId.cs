using System.Collections.Immutable;
using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Service.Delivering;

/// <summary>What the other side knows a message by: the same however often it is sent, so that who keeps the ids he has seen takes each once.</summary>
internal static class MessageId
{
    private const int Bytes = 16;

    /// <summary>Of a change of an alert: shard, alert and number say which.</summary>
    public static string OfChange(string shard, string alert, int number) => Of(string.Create(CultureInfo.InvariantCulture, $"{shard}/{alert}/{number}"));

    /// <summary>Of a reminder that nobody acknowledged a change: another message than the change itself.</summary>
    public static string OfReminder(string change, string step) => Of($"{change} unacknowledged {step}");

    /// <summary>Of a digest of messages to a recipient.</summary>
    public static string OfDigest(string recipient, ImmutableArray<string> parts) => Of($"{recipient} {string.Join(' ', parts)}");

    /// <summary>Of advice to a vehicle since a moment.</summary>
    public static string OfAdvice(string unit, string about, Moment since) => Of($"{unit} {about} {since}");

    // Letters and digits alone: it stands in headers of HTTP and of mail, where the parts of an alert's id could not.
    private static string Of(string text) => "axle_" + Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text)).AsSpan(0, Bytes));
}
