using System.Collections.Immutable;
using System.Globalization;
using System.Text.RegularExpressions;
using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Service.Tests.Dashboards;

/// <summary>
/// What somebody looks at: a stretch of time and what he chose. Puts it into queries as Grafana does. Published: <c>$timeFilter</c> are both ends in milliseconds and <c>$__interval</c> is a
/// duration (grafana/grafana, pkg/tsdb/influxdb/models/query.go); in the format regex several values stand as alternatives in brackets, each escaped, and a value of one's own for all
/// stands as it is (documentation, "Variable syntax" and "Formatting multi-value variables").
/// </summary>
internal sealed partial record Looking(Moment From, Moment To, TimeSpan Interval, ImmutableDictionary<string, Choice> Chosen)
{
    /// <summary>A query as it would be sent.</summary>
    public string Put(string query)
    {
        var put = query.Replace("$timeFilter", string.Create(CultureInfo.InvariantCulture, $"time >= {From.UnixMilliseconds}ms and time <= {To.UnixMilliseconds}ms"), StringComparison.Ordinal)
            .Replace("$__interval", string.Create(CultureInfo.InvariantCulture, $"{(long)Interval.TotalSeconds}s"), StringComparison.Ordinal);
        put = VariableOfRegex().Replace(put, m => Chosen[m.Groups[1].Value].AsRegex());
        // A dollar that is left must be the end of a regular expression.
        Assert.DoesNotMatch("\\$[A-Za-z_{]", put);
        return put;
    }

    /// <summary>True where a value was chosen.</summary>
    public bool Chose(string variable, string value) => Chosen[variable] is not Choice.Values values || values.Chosen.Contains(value);

    /// <summary>True where a moment is looked at.</summary>
    public bool Holds(Moment at) => at >= From && at <= To;

    /// <summary>Beginning of the piece of time that a moment falls in; pieces are counted from 1970.</summary>
    public static long Piece(Moment at, TimeSpan length) => at.UnixMilliseconds - at.UnixMilliseconds % (long)length.TotalMilliseconds;

    [GeneratedRegex(@"\$\{([a-z]+):regex\}")]
    private static partial Regex VariableOfRegex();
}

/// <summary>What was chosen for a variable.</summary>
internal abstract record Choice
{
    private Choice() { }

    public string AsRegex() => this switch
    {
        All all => all.Value,
        Values { Chosen: [var one] } => Escaped(one),
        Values values => $"({string.Join('|', values.Chosen.Select(Escaped))})",
        _ => throw new InvalidOperationException("A choice that nobody handles."),
    };

    private static string Escaped(string value) => Regex.Replace(value, @"[\\^$*+?.()|[\]{}/]", @"\$&");

    /// <summary>All, by a value of its own.</summary>
    internal sealed record All(string Value) : Choice;

    /// <summary>One value or several.</summary>
    internal sealed record Values(params ImmutableArray<string> Chosen) : Choice;
}
