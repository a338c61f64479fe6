using System.Security.Cryptography.X509Certificates;
using AxleTelemetry.Messages.Settings;
using AxleTelemetry.Service.Configuring;

namespace AxleTelemetry.Service.Delivering;

/// <summary>The ways to the recipients of a configuration. Immutable.</summary>
/// <param name="configuration">The configuration, for the secrets.</param>
/// <param name="settings">Who is told.</param>
/// <param name="pages">Where people reach the pages; <c>null</c> where that is not set.</param>
internal sealed class OutletWays(ServiceConfiguration configuration, DeliverySettings settings, Uri? pages)
{
    /// <summary>Who is told.</summary>
    public DeliverySettings Settings => settings;

    /// <summary>The configuration, with <see cref="Settings"/> in it.</summary>
    public ServiceConfiguration Configuration { get; } = configuration with { Settings = configuration.Settings with { Delivery = settings } };

    /// <summary>A way out to a recipient, and how long one message is tried on it.</summary>
    public (IOutlet Outlet, TimeSpan GiveUpAfter) Outlet(RecipientSettings recipient, TimeProvider clock) => recipient.Outlet switch
    {
        OutletSettings.Webhook hook => (new WebhookOutlet(hook, WebhookSecret.Read(configuration.WebhookSecrets[recipient.Name])!, recipient.Language, clock), hook.GiveUpAfter),
        OutletSettings.Mail => (new MailOutlet(settings.Mail!, recipient, (configuration.MailPassword, configuration.MailAuthorities), new MailText(recipient, pages)), settings.Mail!.GiveUpAfter),
        _ => throw new InvalidOperationException("A way out that nobody knows."),
    };

    /// <summary>True where a recipient is told in the same way as by others, secrets included.</summary>
    public bool IsSame(string recipient, OutletWays other) =>
        settings.Find(recipient) is { } mine && mine == other.Settings.Find(recipient) && IsSamePlace(recipient, other);

    /// <summary>True where a recipient is reached at the same place as by others and by the same means, secrets included, however it is told.</summary>
    public bool IsSamePlace(string recipient, OutletWays other) =>
        settings.Find(recipient) is { } mine && mine.Outlet == other.Settings.Find(recipient)?.Outlet
        && (mine.Outlet is OutletSettings.Mail
            ? settings.Mail == other.Settings.Mail && Secret.Same(configuration.MailPassword, other.Password) && Prints(configuration.MailAuthorities).SequenceEqual(Prints(other.Authorities))
            : Secret.Same(configuration.WebhookSecrets.GetValueOrDefault(recipient), other.HookSecret(recipient)));

    private Secret? Password => configuration.MailPassword;

    private X509Certificate2Collection? Authorities => configuration.MailAuthorities;

    private Secret? HookSecret(string recipient) => configuration.WebhookSecrets.GetValueOrDefault(recipient);

    private static IEnumerable<string> Prints(X509Certificate2Collection? authorities) => (authorities ?? []).Select(a => a.Thumbprint);
}
