using System.Net.Security;
using System.Net.Sockets;
using System.Security.Cryptography.X509Certificates;
using System.Text;
using AxleTelemetry.Messages.Settings;
using AxleTelemetry.Service.Configuring;
using MailKit;
using MailKit.Net.Smtp;
using MailKit.Security;
using MimeKit;

namespace AxleTelemetry.Service.Delivering;

/// <summary>
/// Sends mail by SMTP (RFC 5321), a connection for each message. Its Message-ID is that of the message, so that who keeps ids shows it once; a mail server
/// need not, and after a crash a mail may come twice.
/// </summary>
internal sealed class MailOutlet(MailSettings server, RecipientSettings to, (Secret? Password, X509Certificate2Collection? Authorities) trust, MailText text) : IOutlet
{
    private static readonly TimeSpan Longest = TimeSpan.FromSeconds(30);

    public async Task<Handing> SendAsync(Outgoing message, CancellationToken cancel)
    {
        using var mail = Of(message);
        using var client = new SmtpClient { Timeout = (int)Longest.TotalMilliseconds, ServerCertificateValidationCallback = trust.Authorities is null ? null : IsTrusted };
        try
        {
            await client.ConnectAsync(server.Host, server.Port, server.Tls switch
            {
                MailTls.StartTls => SecureSocketOptions.StartTls,
                MailTls.Implicit => SecureSocketOptions.SslOnConnect,
                MailTls.None => SecureSocketOptions.None,
                _ => throw new InvalidOperationException("A way to encrypt that nobody knows."),
            }, cancel);
            if (trust.Password is { } password) await client.AuthenticateAsync(Encoding.UTF8, server.Username!, Encoding.UTF8.GetString(password.Reveal()), cancel);
            await client.SendAsync(mail, cancel);
        }
        catch (SmtpCommandException answered)
        {
            // The server has answered: with 5 for ever, with 4 for now (RFC 5321, 4.2.1).
            return (int)answered.StatusCode >= 500 ? new Handing.Refused(Says(answered)) : new Handing.Away(Says(answered), null);
        }
        catch (Exception failed) when (failed is ProtocolException or CommandException or AuthenticationException or SslHandshakeException or SocketException or IOException or NotSupportedException or ServiceNotConnectedException
            || failed is OperationCanceledException or TimeoutException or System.Security.Authentication.AuthenticationException && !cancel.IsCancellationRequested)
        {
            // A wrong password or certificate is for a person to put right: until then it is as if the server were not there.
            return new Handing.Away(failed.Message.Split('\n')[0].Trim(), null);
        }

        await LeaveAsync(client, cancel);
        return new Handing.Taken();
    }

    public void Dispose()
    {
    }

    private MimeMessage Of(Outgoing message)
    {
        var mail = new MimeMessage { Subject = text.Subject(message), MessageId = $"{message.Parcel.Message}@{server.From.Split('@')[1]}", Date = DateTimeOffset.FromUnixTimeMilliseconds(message.Parcel.Queued.UnixMilliseconds) };
        mail.From.Add(new MailboxAddress("AxleTelemetry", server.From));
        mail.To.Add(new MailboxAddress("", ((OutletSettings.Mail)to.Outlet).Address));
        // What answers by itself should not (RFC 3834).
        mail.Headers.Add("Auto-Submitted", "auto-generated");
        mail.Body = new TextPart("plain") { Text = text.Body(message) };
        return mail;
    }

    // It has the message: whether it takes leave in good order does not matter any more.
    private static async Task LeaveAsync(SmtpClient client, CancellationToken cancel)
    {
        try
        {
            await client.DisconnectAsync(true, cancel);
        }
        catch (Exception gone) when (gone is ProtocolException or CommandException or SocketException or IOException or OperationCanceledException)
        {
            // Gone already.
        }
    }

    private bool IsTrusted(object sender, X509Certificate? certificate, X509Chain? chain, SslPolicyErrors errors)
    {
        if (certificate is null || (errors & ~SslPolicyErrors.RemoteCertificateChainErrors) != 0) return false;
        using var own = new X509Chain();
        own.ChainPolicy.TrustMode = X509ChainTrustMode.CustomRootTrust;
        own.ChainPolicy.CustomTrustStore.AddRange(trust.Authorities!);
        own.ChainPolicy.RevocationMode = X509RevocationMode.NoCheck;
        if (chain is not null) own.ChainPolicy.ExtraStore.AddRange(chain.ChainElements.Select(e => e.Certificate).ToArray());
        using var whole = X509CertificateLoader.LoadCertificate(certificate.Export(X509ContentType.Cert));
        return own.Build(whole);
    }

    private static string Says(SmtpCommandException answered) => FormattableString.Invariant($"The mail server says {(int)answered.StatusCode}: {answered.Message.Split('\n')[0].Trim()}");
}
