using System.Security.Cryptography.X509Certificates;
using System.Security.Cryptography;
using System.Text;
using AxleTelemetry.Service.Delivering;
using AxleTelemetry.Service.Inputs;

namespace AxleTelemetry.Service.Configuring;

/// <summary>Reads the files that settings name by property, other than those of fleets. No problem ever shows what stands in one.</summary>
internal sealed class NamedFiles(SettingsPlace place, List<InputProblem> errors, List<InputProblem> warnings)
{
    private const int MostBytes = 1 << 20, MostSecret = 4_096, LeastToken = 16;

    /// <summary>The password on the first line of a file.</summary>
    public Secret? Password(string path, string? file) => file is null ? null : FirstLine(path, file) is { } line ? new Secret(line) : null;

    /// <summary>The token on the first line of a file.</summary>
    public Secret? Token(string path, string? file)
    {
        if (file is null || FirstLine(path, file) is not { } line) return null;
        if (line.Length >= LeastToken && line.All(c => c is > ' ' and < (char)127)) return new Secret(line);
        errors.Add(new(place.Settings, path, "a token that is not shown", $"A token has at least {LeastToken} characters, no spaces. One can be made with: openssl rand -hex 32"));
        return null;
    }

    /// <summary>The secret that a webhook is signed with.</summary>
    public Secret? Webhook(string path, string file)
    {
        if (FirstLine(path, file) is not { } line) return null;
        var secret = new Secret(line);
        if (WebhookSecret.Read(secret) is not null) return secret;
        errors.Add(new(place.Settings, path, "a secret that is not shown", WebhookSecret.Rule));
        return null;
    }

    /// <summary>The devices of a file.</summary>
    public DeviceCredentials? Devices(string path, string? file) =>
        file is not null && Text(path, file) is { } text ? DeviceCredentials.Parse(text, (line, right) => errors.Add(
            new(FormattableString.Invariant($"{place.Of(file)}:{line}"), "", "a line that is not shown", right))) : null;

    /// <summary>The authorities of a PEM file.</summary>
    public X509Certificate2Collection? Authorities(string path, string? file)
    {
        if (file is null || Text(path, file) is not { } text) return null;
        var authorities = new X509Certificate2Collection();
        try
        {
            authorities.ImportFromPem(text);
        }
        catch (CryptographicException)
        {
            // Told below in words of our own: half a certificate is as useless as none.
            authorities.Clear();
        }

        if (authorities.Count > 0) return authorities;
        errors.Add(new(place.Settings, path, $"'{file}' without a whole certificate", "A PEM file with at least one certificate (BEGIN CERTIFICATE) belongs here."));
        return null;
    }

    /// <summary>The thumbprint of a certificate with the key that belongs to it.</summary>
    public string? Identity(string path, (string? Certificate, string? Key) files)
    {
        if (files is not ({ } certificate, { } key)) return null;
        if ((Text(path + ".certificate_file", certificate), Text(path + ".key_file", key)) is not ({ } shown, { } kept)) return null;
        try
        {
            using var pair = X509Certificate2.CreateFromPem(shown, kept);
            return pair.Thumbprint;
        }
        catch (CryptographicException)
        {
            errors.Add(new(place.Settings, path + ".key_file", "a key that is not shown", $"The unencrypted PEM key (BEGIN PRIVATE KEY) of the first certificate in '{certificate}' belongs here."));
            return null;
        }
    }

    private string? FirstLine(string path, string file)
    {
        if (Text(path, file) is not { } text) return null;
        var line = text.Split('\n')[0].TrimEnd('\r');
        if (line.Length is > 0 and <= MostSecret) return line;
        errors.Add(new(place.Settings, path, line.Length == 0 ? "a file whose first line is empty" : "a first line that is too long", $"The first line of the file is the secret: 1 to {MostSecret} characters."));
        return null;
    }

    private string? Text(string path, string file)
    {
        try
        {
            var full = place.Of(file);
            if (new FileInfo(full).Length > MostBytes)
            {
                errors.Add(new(place.Settings, path, "a file that is too large", $"A file like this has at most {MostBytes} bytes."));
                return null;
            }

            var text = File.ReadAllText(full, Encoding.UTF8);
            if (!OperatingSystem.IsWindows() && !IsPublic(path)
                && (File.GetUnixFileMode(full) & (UnixFileMode.OtherRead | UnixFileMode.OtherWrite)) != 0)
                warnings.Add(new(place.Settings, path, "a file that every user of this machine can read or write", "Let only the service read it: chmod 600."));
            return text;
        }
        catch (Exception unreadable) when (unreadable is IOException or UnauthorizedAccessException or ArgumentException)
        {
            // The name is not shown, nor the system's message that holds it: it may be the secret itself, put in the wrong place.
            errors.Add(new(place.Settings, path, "", unreadable is FileNotFoundException or DirectoryNotFoundException
                ? "There is no file of the name written here. The name of a file belongs here, never the secret itself."
                : "The file named here cannot be read by this user."));
            return null;
        }
    }

    private static bool IsPublic(string path) => path.EndsWith("ca_file", StringComparison.Ordinal) || path.EndsWith("certificate_file", StringComparison.Ordinal);
}
