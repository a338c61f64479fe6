using System.Globalization;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Messages.Topics;

namespace AxleTelemetry.Service.Serving;

/// <summary>Reads the parameters of a request. The first that cannot be taken is the problem; what is read after it does not matter.</summary>
internal sealed class Asked(IQueryCollection query)
{
    private const string TimeRule = "a time by RFC 3339 with its zone, for example 2026-03-02T06:00:00Z";

    public Asked(HttpContext http)
        : this(http.Request.Query)
    {
    }

    /// <summary>Why the request cannot be answered; <c>null</c> where it can.</summary>
    public IResult? Problem { get; private set; }

    public string? Text(string name) => query.TryGetValue(name, out var values) ? values.ToString() : null;

    /// <summary>An id; <c>null</c> where none is given.</summary>
    public string? Name(string name)
    {
        if (Text(name) is not { } text || Id.IsValid(text)) return Text(name);
        return Refuse<string?>(name, text, Id.Rule);
    }

    /// <summary>The vehicle asked for; an id alone names none.</summary>
    public VehicleName? Vehicle()
    {
        var (fleet, id) = (Name("fleet"), Name("vehicle"));
        if (id is not null && fleet is null) return Refuse<VehicleName?>("fleet", null, "the fleet of the vehicle");
        return id is null ? null : new VehicleName(fleet!, id);
    }

    public int Number(string name, int otherwise, int least, int most)
    {
        if (Text(name) is not { } text) return otherwise;
        return int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var number) && number >= least && number <= most
            ? number
            : Refuse(name, text, $"a whole number from {least} to {most}", otherwise);
    }

    public Moment? Time(string name)
    {
        if (Text(name) is not { } text) return null;
        return ReadTime(text) is { } at ? at : Refuse<Moment?>(name, text, TimeRule);
    }

    public bool? Flag(string name) => Text(name) switch
    {
        null => null,
        "true" => true,
        "false" => false,
        var other => Refuse<bool?>(name, other, "true or false"),
    };

    /// <summary>One of a list of words; <c>null</c> where none is given.</summary>
    public string? OneOf(string name, IReadOnlyList<string> words)
    {
        if (Text(name) is not { } text || words.Contains(text)) return Text(name);
        return Refuse<string?>(name, text, $"one of {string.Join(", ", words)}");
    }

    /// <summary>Says that a parameter cannot be taken.</summary>
    public T? Refuse<T>(string name, string? value, string right, T? otherwise = default)
    {
        Problem ??= Serving.Problem.Field(name, value, right);
        return otherwise;
    }

    /// <summary>A time with its zone; <c>null</c> for another text.</summary>
    public static Moment? ReadTime(string text)
    {
        var hasZone = text.EndsWith('Z') || text.Length > 6 && text[^6] is '+' or '-' && text[^3] == ':';
        return hasZone && text.Length >= 17 && DateTimeOffset.TryParse(text, CultureInfo.InvariantCulture, DateTimeStyles.None, out var at)
            ? new Moment(at.ToUnixTimeMilliseconds()) : null;
    }
}
