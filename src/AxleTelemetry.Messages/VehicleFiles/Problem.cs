using System.Collections.Immutable;

namespace AxleTelemetry.Messages.VehicleFiles;

/// <summary>One thing that is wrong or odd in a file, said so that whoever wrote the file can put it right.</summary>
/// <param name="Kind">What sort of thing.</param>
/// <param name="Path">Where, as a JSON path: <c>$.axles[1].rating_kg</c>.</param>
/// <param name="Found">What stands there; empty where nothing does.</param>
/// <param name="Right">What would be right.</param>
/// <param name="Place">Where in the text.</param>
public sealed record Problem(ProblemKind Kind, string Path, string Found, string Right, TextPlace Place)
{
    /// <summary>True for what is odd but possible.</summary>
    public bool IsWarning => Kind.IsWarning();

    /// <inheritdoc/>
    public override string ToString() => Found.Length == 0
        ? $"{Path}: {Right}"
        : $"{Path}: found {Found}. {Right}";
}

/// <summary>A place in a text, both counted from 1; <c>default</c> where unknown.</summary>
public readonly record struct TextPlace(int Line, int Column);

/// <summary>What came of reading a file.</summary>
public abstract record VehicleFileResult
{
    private VehicleFileResult() { }

    /// <summary>The errors, then the warnings, each in the order of the text.</summary>
    public abstract ImmutableArray<Problem> Problems { get; }

    /// <summary>The description is whole and consistent; there may be warnings.</summary>
    public sealed record Accepted(Domain.Vehicles.VehicleDescription Vehicle, ImmutableArray<Problem> Warnings) : VehicleFileResult
    {
        /// <inheritdoc/>
        public override ImmutableArray<Problem> Problems => Warnings;
    }

    /// <summary>It is not, and every reason why.</summary>
    public sealed record Refused(ImmutableArray<Problem> All) : VehicleFileResult
    {
        /// <inheritdoc/>
        public override ImmutableArray<Problem> Problems => All;
    }
}
