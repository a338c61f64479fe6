using System.Collections.Immutable;
using AxleTelemetry.Messages.Contacts;
using AxleTelemetry.Messages.Settings;
using AxleTelemetry.Messages.VehicleFiles;
using AxleTelemetry.Service.Contacts;
using AxleTelemetry.Service.Inputs;

namespace AxleTelemetry.Service.Configuring;

/// <summary>Reads a settings file and everything it names: all of it, or every error at once.</summary>
internal sealed class ServiceReading
{
    private readonly List<InputProblem> _errors = [];
    private readonly List<InputProblem> _warnings = [];
    private readonly SettingsPlace _place;
    private readonly NamedFiles _named;

    private ServiceReading(string file)
    {
        _place = new(file);
        _named = new(_place, _errors, _warnings);
    }

    /// <summary>Reads. Never throws for what stands in a file or is missing.</summary>
    public static ServiceResult Read(string file) => new ServiceReading(file).Read();

    private ServiceResult Read()
    {
        ImmutableArray<string> own = [_place.Settings];
        if (new InputFiles(_errors, _warnings).Bytes(_place.Settings) is not { } bytes) return new ServiceResult.Refused([.. _errors], own);
        var result = SettingsFile.Parse(bytes);
        foreach (var problem in result.Problems) Tell(problem);
        return result switch
        {
            SettingsResult.Accepted accepted => Read(accepted.Settings, new SourceText(_place.Settings, [.. bytes])),
            SettingsResult.Refused => new ServiceResult.Refused([.. _errors], own),
            _ => throw new InvalidOperationException("An outcome of reading settings that nobody handles."),
        };
    }

    private ServiceResult Read(ServiceSettings settings, SourceText text)
    {
        ImmutableArray<string> watched = [_place.Settings, .. WatchedFiles.Of(settings).Select(_place.Of)];
        var data = Path.GetFullPath(_place.Of(settings.DataDirectory));
        if (File.Exists(data)) _errors.Add(new(_place.Settings, "$.data_directory", $"'{settings.DataDirectory}'", "This is a file. A directory belongs here; it is made when missing."));
        var (external, embedded) = (settings.Broker as BrokerSettings.External, settings.Broker as BrokerSettings.Embedded);
        var password = _named.Password("$.broker.password_file", external?.PasswordFile);
        var authorities = _named.Authorities("$.broker.ca_file", external?.CaFile);
        var identity = _named.Identity("$.broker", (external?.CertificateFile, external?.KeyFile));
        var devices = _named.Devices("$.embedded_broker.credentials_file", embedded?.CredentialsFile);
        var token = _named.Token("$.http.api_token_file", settings.Http.ApiTokenFile);
        var openId = _named.Password("$.http.open_id.client_secret_file", settings.Http.OpenId?.ClientSecretFile);
        var series = _named.Token("$.series.token_file", settings.Series?.TokenFile);
        var hooks = (settings.Delivery?.Recipients ?? []).Select(r => (r.Name, Secret: r.Outlet is OutletSettings.Webhook hook ? _named.Webhook($"$.delivery.recipients.{r.Name}.webhook.secret_file", hook.SecretFile) : null)).Where(h => h.Secret is not null).ToArray();
        var (mailPassword, mailAuthorities) = (_named.Password("$.delivery.mail.password_file", settings.Delivery?.Mail?.PasswordFile), _named.Authorities("$.delivery.mail.ca_file", settings.Delivery?.Mail?.CaFile));
        var phones = new PhoneBook([.. settings.Fleets.Select(f => (f.Name, f.Contacts is { } contacts ? Contacts(_place.Of(contacts)) : []))]);
        var fleets = Build(settings);
        if (fleets is not null && devices is not null && embedded is not null) _warnings.AddRange(AccessCheck.Run(embedded.Access, devices, fleets, _place.Settings));
        if (fleets is null || _errors.Count > 0) return new ServiceResult.Refused([.. _errors], watched);
        return new ServiceResult.Loaded(new()
        {
            Settings = settings, Text = text, DataDirectory = data, Fleets = fleets, BrokerPassword = password,
            WebhookSecrets = hooks.ToImmutableSortedDictionary(h => h.Name, h => h.Secret!, StringComparer.Ordinal), MailPassword = mailPassword, MailAuthorities = mailAuthorities,
            Phones = phones, OpenIdSecret = openId, SeriesToken = series, Authorities = authorities, Identity = identity, ApiToken = token, Devices = devices, Warnings = [.. _warnings], Watched = watched,
        });
    }

    private ImmutableArray<Contact> Contacts(string file)
    {
        var files = new InputFiles(_errors, _warnings);
        return files.Bytes(file) is { } bytes ? files.Contacts(file, bytes) : [];
    }

    private FleetConfiguration? Build(ServiceSettings settings)
    {
        var before = _errors.Count;
        var sources = new SourceReading(_place, _errors).Read(settings);
        var unread = _errors.Count > before;
        switch (FleetConfiguration.Build(sources))
        {
            case ConfigurationResult.Built built:
                _warnings.AddRange(built.Configuration.Warnings.Select(Located));
                _warnings.AddRange(Twins(built.Configuration));
                return unread ? null : built.Configuration;
            case ConfigurationResult.Refused refused:
                _errors.AddRange(refused.Errors.Select(Located));
                return null;
            default:
                throw new InvalidOperationException("An outcome of building that nobody handles.");
        }
    }

    private IEnumerable<InputProblem> Twins(FleetConfiguration configuration) => configuration.Fleets
        .SelectMany(f => f.Vehicles.Select(v => (v.Description.Id, Fleet: f.Name)))
        .GroupBy(v => v.Id, v => v.Fleet).Where(g => g.Count() > 1)
        .Select(g => new InputProblem(_place.Settings, "$.fleets", $"vehicle '{g.Key}' in {string.Join(" and ", g)}", "A vehicle usually belongs to one fleet. Its messages name the fleet, so they count as two vehicles."));

    // Sources are named as the settings name them; a person wants the path from where he stands.
    private InputProblem Located(InputProblem problem) => problem with { Source = _place.Of(problem.Source) };

    private void Tell(Problem problem) => (problem.IsWarning ? _warnings : _errors).Add(new(
        problem.Place == default ? _place.Settings : FormattableString.Invariant($"{_place.Settings}:{problem.Place.Line}:{problem.Place.Column}"),
        problem.Path, problem.Found, problem.Right));
}
