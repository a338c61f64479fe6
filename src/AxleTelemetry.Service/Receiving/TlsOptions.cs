using System.Security.Cryptography.X509Certificates;
using MQTTnet;

namespace AxleTelemetry.Service.Receiving;

/// <summary>An encrypted connection to a broker. The broker's name is always checked.</summary>
internal sealed record TlsOptions
{
    /// <summary>A PEM file of the authorities to trust; <c>null</c> for those of the system.</summary>
    public string? AuthorityFile { get; init; }

    /// <summary>Our own certificate, PEM; <c>null</c> where the broker asks for none.</summary>
    public string? CertificateFile { get; init; }

    public string? KeyFile { get; init; }

    /// <summary>Sets up a connection; reads the files anew.</summary>
    /// <exception cref="IOException">A file cannot be read.</exception>
    /// <exception cref="System.Security.Cryptography.CryptographicException">A file holds no certificate or key.</exception>
    public void Apply(MqttClientTlsOptionsBuilder tls)
    {
        tls.UseTls();
        if (AuthorityFile is not null)
        {
            var authorities = new X509Certificate2Collection();
            authorities.ImportFromPemFile(AuthorityFile);
            // An authority of one's own publishes no list of what it revoked.
            tls.WithTrustChain(authorities).WithRevocationMode(X509RevocationMode.NoCheck);
        }

        if (CertificateFile is not null) tls.WithClientCertificates([X509Certificate2.CreateFromPemFile(CertificateFile, KeyFile)]);
    }
}
