using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json;
using System.Text.RegularExpressions;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Places;

namespace AxleTelemetry.Messages.Limits;

/// <summary>Reads a table of limits from our own JSON format (limit-set.schema.json). Reports every error at once.</summary>
public static partial class LimitSetParser
{
    private static readonly Dictionary<string, LimitStatus> Statuses = new()
    {
        ["in-force"] = LimitStatus.InForce,
        ["unverified-edition"] = LimitStatus.UnverifiedEdition,
        ["known-outdated"] = LimitStatus.KnownOutdated,
    };

    internal static readonly Dictionary<string, TripScope> Scopes = new()
    {
        ["all"] = TripScope.All,
        ["national"] = TripScope.National,
        ["international"] = TripScope.International,
    };

    /// <summary>Reads a whole file's text.</summary>
    public static LimitSetResult Parse(ReadOnlyMemory<byte> json)
    {
        if (!JsonEscapes.AreWhole(json.Span))
            return new LimitSetResult.Refused([new LimitFileError("$", "a text with half a character", "UTF-8 text with whole escapes")]);
        try
        {
            using var document = JsonDocument.Parse(json, new JsonDocumentOptions { AllowDuplicateProperties = false });
            return Parse(document.RootElement);
        }
        catch (JsonException wrong)
        {
            var place = wrong.LineNumber is { } line ? $"line {(line + 1).ToString(CultureInfo.InvariantCulture)}" : "$";
            return new LimitSetResult.Refused([new LimitFileError(place, "text that is not JSON, or a key given twice", wrong.Message)]);
        }
    }

    internal static LimitStatus? Status(JsonPlace place, bool required) => place.Word("status", Statuses, required);

    private static LimitSetResult Parse(JsonElement root)
    {
        if (root.ValueKind != JsonValueKind.Object)
            return new LimitSetResult.Refused([new LimitFileError("$", JsonPlace.Shown(root), "an object with id, title, as_of, source, status, rules")]);

        List<LimitFileError> errors = [];
        var place = new JsonPlace(root, "$", errors);
        place.Text("$schema", required: false);
        var set = new LimitSet
        {
            Id = Id(place),
            Title = place.Text("title"),
            AsOf = Date(place, "as_of"),
            Source = place.Text("source"),
            Status = Status(place, required: true) ?? LimitStatus.UnverifiedEdition,
            AppliesTo = place.Word("applies_to", Scopes, required: false) ?? TripScope.National,
            Countries = Countries(place, errors),
            From = place.Text("from", required: false).Length > 0 ? Date(place, "from") : null,
            StandsAlone = place.Flag("stands_alone"),
            Notes = Notes(place, errors),
            Rules = Rules(place, errors),
        };
        place.Close();
        return errors.Count == 0 ? new LimitSetResult.Parsed(set) : new LimitSetResult.Refused([.. errors]);
    }

    private static string Id(JsonPlace place)
    {
        var id = place.Text("id");
        if (id.Length > 0 && !IdPattern().IsMatch(id)) place.Wrong("id", "1 to 64 of a-z 0-9 . _ -");
        return id;
    }

    private static DateOnly Date(JsonPlace place, string key)
    {
        var text = place.Text(key);
        if (DateOnly.TryParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var date)) return date;
        if (text.Length > 0) place.Wrong(key, "a date as 2019-08-14");
        return default;
    }

    private static ImmutableArray<Country> Countries(JsonPlace place, List<LimitFileError> errors)
    {
        var countries = ImmutableArray.CreateBuilder<Country>();
        foreach (var (value, path) in place.Items("countries", required: false))
            if (value.ValueKind == JsonValueKind.String && Country.TryFrom(value.GetString(), out var country) && country.Code == value.GetString() && !countries.Contains(country)) countries.Add(country);
            else errors.Add(new LimitFileError(path, JsonPlace.Shown(value), "a code of ISO 3166-1 alpha-2 such as AT, each once"));
        return countries.ToImmutable();
    }

    private static ImmutableArray<string> Notes(JsonPlace place, List<LimitFileError> errors)
    {
        var notes = ImmutableArray.CreateBuilder<string>();
        foreach (var (value, path) in place.Items("notes", required: false))
            if (value.ValueKind == JsonValueKind.String) notes.Add(value.GetString()!);
            else errors.Add(new LimitFileError(path, JsonPlace.Shown(value), "a text"));
        return notes.ToImmutable();
    }

    private static ImmutableArray<LimitRule> Rules(JsonPlace place, List<LimitFileError> errors)
    {
        var rules = ImmutableArray.CreateBuilder<LimitRule>();
        foreach (var (value, path) in place.Items("rules", required: true))
        {
            if (value.ValueKind != JsonValueKind.Object)
            {
                errors.Add(new LimitFileError(path, JsonPlace.Shown(value), "a rule: an object with limits and clause"));
                continue;
            }

            if (RuleReader.Read(new JsonPlace(value, path, errors)) is { } rule) rules.Add(rule);
        }

        return rules.ToImmutable();
    }

    [GeneratedRegex(@"\A[a-z0-9._-]{1,64}\z")]
    private static partial Regex IdPattern();
}
