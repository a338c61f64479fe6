using System.Net;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;

namespace AxleTelemetry.Service.Tests.Receiving;

/// <summary>A certificate made here, its own authority, for this machine only.</summary>
internal sealed class Certificates
{
    public Certificates(string folder)
    {
        using var key = ECDsa.Create(ECCurve.NamedCurves.nistP256);
        var request = new CertificateRequest("CN=localhost", key, HashAlgorithmName.SHA256);
        var names = new SubjectAlternativeNameBuilder();
        names.AddDnsName("localhost");
        names.AddIpAddress(IPAddress.Loopback);
        request.CertificateExtensions.Add(names.Build());
        request.CertificateExtensions.Add(new X509BasicConstraintsExtension(true, false, 0, true));
        using var made = request.CreateSelfSigned(DateTimeOffset.UtcNow.AddDays(-1), DateTimeOffset.UtcNow.AddDays(1));
        CertificateFile = Path.Combine(folder, "certificate.pem");
        KeyFile = Path.Combine(folder, "key.pem");
        File.WriteAllText(CertificateFile, made.ExportCertificatePem());
        File.WriteAllText(KeyFile, key.ExportPkcs8PrivateKeyPem());
    }

    public string CertificateFile { get; }

    public string KeyFile { get; }

    public X509Certificate2 Read() => X509Certificate2.CreateFromPemFile(CertificateFile, KeyFile);
}
