using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Telling;

namespace AxleTelemetry.Messages.Settings;

/// <summary>Who is told of alerts, and how. Secrets are named by their files only.</summary>
public sealed record DeliverySettings
{
    /// <summary>True where each change of an alert goes to the topic <c>alerts</c> of its fleet.</summary>
    public bool AlertsByMqtt { get; init; }

    /// <summary>True where advice goes to the display of each vehicle.</summary>
    public bool AdviceByMqtt { get; init; }

    /// <summary>The server that takes mail; <c>null</c> where nobody is told by mail.</summary>
    public MailSettings? Mail { get; init; }

    /// <summary>Whoever may be told, in ordinal order of their names.</summary>
    public ImmutableArray<RecipientSettings> Recipients { get; init; } = [];

    /// <summary>Who is told of what.</summary>
    public ImmutableArray<RouteSettings> Routes { get; init; } = [];

    /// <summary>A recipient by its name; <c>null</c> where there is none.</summary>
    public RecipientSettings? Find(string name) => Recipients.FirstOrDefault(r => r.Name == name);

    /// <summary>True where both say the same.</summary>
    public static bool Same(DeliverySettings? one, DeliverySettings? other) => one is null || other is null
        ? one == other
        : (one.AlertsByMqtt, one.AdviceByMqtt, one.Mail) == (other.AlertsByMqtt, other.AdviceByMqtt, other.Mail)
            && one.Recipients.SequenceEqual(other.Recipients) && one.Routes.SequenceEqual(other.Routes);
}

/// <summary>A server that takes mail by SMTP.</summary>
/// <param name="Host">Name or address.</param>
/// <param name="Port">Port.</param>
/// <param name="Tls">How the connection is encrypted.</param>
/// <param name="From">The address that mail comes from.</param>
public sealed record MailSettings(string Host, int Port, MailTls Tls, string From)
{
    /// <summary>User; <c>null</c> where the server asks for none.</summary>
    public string? Username { get; init; }

    /// <summary>File whose first line is the password.</summary>
    public string? PasswordFile { get; init; }

    /// <summary>PEM file of the authorities to trust; <c>null</c>: those that this machine trusts.</summary>
    public string? CaFile { get; init; }

    /// <summary>How long a message is tried again before it is put aside. Default 24 h.</summary>
    public TimeSpan GiveUpAfter { get; init; } = DefaultGiveUp;

    /// <summary>How long is tried where nothing is set.</summary>
    public static TimeSpan DefaultGiveUp { get; } = TimeSpan.FromHours(24);
}

/// <summary>How a connection for mail is encrypted.</summary>
public enum MailTls
{
    /// <summary>Plain at first, then encrypted by STARTTLS (RFC 3207); without it nothing is sent.</summary>
    StartTls,

    /// <summary>Encrypted from the first byte (RFC 8314).</summary>
    Implicit,

    /// <summary>Not at all: for a server on this machine or a network of one's own.</summary>
    None,
}

/// <summary>Somebody, or something, that is told of alerts.</summary>
/// <param name="Name">What it is called in routes and lists.</param>
/// <param name="Outlet">By what way.</param>
/// <param name="Language">In which language.</param>
public sealed record RecipientSettings(string Name, OutletSettings Outlet, Language Language)
{
    /// <summary>True where every change of an alert is told; false: only those that ring.</summary>
    public required bool TellsAll { get; init; }

    /// <summary>Messages in any hour above which those that follow come as a digest; <c>null</c> for no limit.</summary>
    public int? MostPerHour { get; init; }
}

/// <summary>A language that alerts are told in.</summary>
public enum Language
{
    /// <summary>English.</summary>
    En,

    /// <summary>German.</summary>
    De,
}

/// <summary>The way to a recipient.</summary>
public abstract record OutletSettings
{
    private OutletSettings() { }

    /// <summary>An address that takes signed JSON by POST.</summary>
    /// <param name="Url">The address.</param>
    /// <param name="SecretFile">File whose first line is the secret to sign with.</param>
    /// <param name="GiveUpAfter">How long a message is tried again before it is put aside.</param>
    public sealed record Webhook(Uri Url, string SecretFile, TimeSpan GiveUpAfter) : OutletSettings;

    /// <summary>A person's mail.</summary>
    /// <param name="Address">The address.</param>
    public sealed record Mail(string Address) : OutletSettings;
}

/// <summary>Who is told of what. An empty list stands for all.</summary>
/// <param name="To">Names of recipients; at least one.</param>
public sealed record RouteSettings(ImmutableArray<string> To)
{
    /// <summary>The fleets.</summary>
    public ImmutableArray<string> Fleets { get; init; } = [];

    /// <summary>Kinds of findings; <c>null</c> among them stands for a vehicle that is not heard.</summary>
    public ImmutableArray<FindingKind?> Kinds { get; init; } = [];

    /// <summary>Least priority.</summary>
    public AlertPriority LeastPriority { get; init; } = AlertPriority.Low;

    /// <summary>Least level.</summary>
    public Level LeastLevel { get; init; } = Level.Clear;

    /// <summary>Who is told when nobody acknowledges, soonest first.</summary>
    public ImmutableArray<EscalationSettings> Escalation { get; init; } = [];

    /// <inheritdoc/>
    public bool Equals(RouteSettings? other) => other is not null && To.SequenceEqual(other.To) && Fleets.SequenceEqual(other.Fleets) && Kinds.SequenceEqual(other.Kinds)
        && (LeastPriority, LeastLevel) == (other.LeastPriority, other.LeastLevel) && Escalation.SequenceEqual(other.Escalation);

    /// <inheritdoc/>
    public override int GetHashCode() => HashCode.Combine(To.Length, Fleets.Length, Kinds.Length, LeastPriority, LeastLevel, Escalation.Length);
}

/// <summary>Who is told when nobody acknowledged in time.</summary>
/// <param name="After">After how long since it rang.</param>
/// <param name="To">Names of recipients; at least one.</param>
public sealed record EscalationSettings(TimeSpan After, ImmutableArray<string> To)
{
    /// <inheritdoc/>
    public bool Equals(EscalationSettings? other) => other is not null && After == other.After && To.SequenceEqual(other.To);

    /// <inheritdoc/>
    public override int GetHashCode() => HashCode.Combine(After, To.Length);
}
