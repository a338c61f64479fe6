using System.Collections.Immutable;
using System.Globalization;

namespace AxleTelemetry.Messages.VehicleFiles;

/// <summary>Gathers what is wrong with one file while it is looked through.</summary>
internal sealed class Problems(JsonSource? source)
{
    private readonly List<Problem> _all = [];
    private readonly HashSet<string> _faulty = [];

    /// <summary>True once something is an error.</summary>
    public bool AnyError => _faulty.Count > 0;

    /// <summary>True where the value at a path is in error itself, so that nothing should be concluded from it.</summary>
    public bool IsFaulty(string path) => _faulty.Contains(path);

    /// <summary>True where the value at a path, or anything in it, is in error.</summary>
    public bool AnyErrorUnder(string path) => _faulty.Any(f => f.StartsWith(path, StringComparison.Ordinal)
        && (f.Length == path.Length || f[path.Length] is '.' or '['));

    /// <summary>Adds a problem.</summary>
    public void Add(ProblemKind kind, string path, string found, string right)
    {
        if (!kind.IsWarning()) _faulty.Add(path);
        _all.Add(new Problem(kind, path, found, right, source?.PlaceOf(path) ?? default));
    }

    /// <summary>Adds a problem with a number.</summary>
    public void Add(ProblemKind kind, string path, double found, string right) => Add(kind, path, Say(found), right);

    /// <summary>Errors first, each kind in the order of the text.</summary>
    public ImmutableArray<Problem> InOrder() =>
        [.. _all.OrderBy(p => p.IsWarning).ThenBy(p => p.Place.Line).ThenBy(p => p.Place.Column)];

    /// <summary>A number as people write it.</summary>
    public static string Say(double value) => value.ToString("0.###", CultureInfo.InvariantCulture);
}
