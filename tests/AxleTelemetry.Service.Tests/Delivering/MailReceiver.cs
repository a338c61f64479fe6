using System.Buffers;
using System.Collections.Concurrent;
using System.Collections.Immutable;
using System.Net;
using System.Security.Cryptography.X509Certificates;
using AxleTelemetry.Service.Tests.Watching;
using MimeKit;
using SmtpServer;
using SmtpServer.Authentication;
using SmtpServer.ComponentModel;
using SmtpServer.Protocol;
using SmtpServer.Storage;

namespace AxleTelemetry.Service.Tests.Delivering;

/// <summary>Takes mail by SMTP, as a mail server would, and keeps it.</summary>
internal sealed class MailReceiver : IAsyncDisposable
{
    private readonly CancellationTokenSource _stop = new();
    private readonly ConcurrentQueue<MimeMessage> _mails = [];
    private readonly Task _running;

    /// <param name="answer">What is said to each mail; <c>null</c> takes it.</param>
    /// <param name="certificate">For STARTTLS with a password; <c>null</c> for plain and without.</param>
    /// <param name="isLocked">True where it takes nothing without a password, and no password unencrypted.</param>
    public MailReceiver(Func<SmtpResponse?>? answer = null, X509Certificate2? certificate = null, bool isLocked = false)
    {
        var options = new SmtpServerOptionsBuilder().ServerName("localhost").Endpoint(e =>
        {
            e.Endpoint(new IPEndPoint(IPAddress.Loopback, Port));
            if (isLocked) e.AuthenticationRequired(true);
            if (certificate is not null) e.Certificate(certificate).AuthenticationRequired(true);
        }).Build();
        var parts = new ServiceProvider();
        parts.Add(new Store(this, answer ?? (() => null)));
        parts.Add((IUserAuthenticator)new Gate());
        _running = new SmtpServer.SmtpServer(options, parts).StartAsync(_stop.Token);
    }

    public int Port { get; } = Mosquitto.FreePort();

    public ImmutableArray<MimeMessage> Mails => [.. _mails];

    public async ValueTask DisposeAsync()
    {
        await _stop.CancelAsync();
        try
        {
            await _running;
        }
        catch (OperationCanceledException)
        {
            // It was told to stop.
        }

        _stop.Dispose();
    }

    private sealed class Store(MailReceiver owner, Func<SmtpResponse?> answer) : MessageStore
    {
        public override async Task<SmtpResponse> SaveAsync(ISessionContext context, IMessageTransaction transaction, ReadOnlySequence<byte> buffer, CancellationToken cancellationToken)
        {
            if (answer() is { } refused) return refused;
            using var bytes = new MemoryStream(buffer.ToArray());
            owner._mails.Enqueue(await MimeMessage.LoadAsync(bytes, cancellationToken));
            return SmtpResponse.Ok;
        }
    }

    private sealed class Gate : UserAuthenticator
    {
        public override Task<bool> AuthenticateAsync(ISessionContext context, string user, string password, CancellationToken cancellationToken) =>
            Task.FromResult((user, password) == ("axles", "a mail password"));
    }
}
