using System.Collections.Immutable;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Messages.VehicleFiles;

/// <summary>A file whose properties have been looked at one by one, as the checks of the whole see it.</summary>
internal sealed class Draft
{
    public Draft(Node root, Problems problems)
    {
        Root = root;
        Problems = problems;
        Kind = root.Word<VehicleKind>("kind");
        Axles = [.. root.Parts("axles").Select((node, i) => new DraftAxle(i, node))];
        Front = root.Part("front") is { } front ? new DraftGroup("front", front, Refer(front, "axles")) : null;
        Rear = root.Part("rear") is { } rear ? new DraftGroup("rear", rear, Refer(rear, "axles")) : null;
    }

    public Node Root { get; }

    public Problems Problems { get; }

    /// <summary><c>null</c> where the file does not say.</summary>
    public VehicleKind? Kind { get; }

    public ImmutableArray<DraftAxle> Axles { get; }

    public DraftGroup? Front { get; }

    public DraftGroup? Rear { get; }

    public IEnumerable<DraftGroup> Groups => new[] { Front, Rear }.OfType<DraftGroup>();

    /// <summary>Index of an axle by key, or -1.</summary>
    public int IndexOf(string key)
    {
        foreach (var axle in Axles)
            if (axle.Key == key)
                return axle.Index;
        return -1;
    }

    /// <summary>The axles that a list names; a key that no axle has becomes a problem.</summary>
    public ImmutableArray<int> Refer(Node node, string name)
    {
        var indices = ImmutableArray.CreateBuilder<int>();
        foreach (var (key, path) in node.Texts(name))
            if (Refer(key, path) is var index and >= 0)
                indices.Add(index);
        return indices.ToImmutable();
    }

    /// <summary>The axle of a key, or -1 with a problem.</summary>
    public int Refer(string key, string path)
    {
        var index = IndexOf(key);
        if (index >= 0) return index;
        var known = Axles.Select(a => a.Key).OfType<string>().ToImmutableArray();
        var meant = Nearest.To(key, known) is { } near ? $" Did you mean '{near}'?" : "";
        Problems.Add(ProblemKind.NoSuchAxle, path, $"'{key}'", $"No axle has that key. Axles are {string.Join(", ", known)}.{meant}");
        return -1;
    }
}

/// <summary>An axle as written.</summary>
internal sealed class DraftAxle(int index, Node node)
{
    public int Index => index;

    public Node Node => node;

    public string? Key { get; } = node.Text("key");

    public AxleRole? Role { get; } = node.Word<AxleRole>("role");

    public double? X { get; } = node.Number("x_m");

    public double? Unsprung { get; } = node.Number("unsprung_kg");

    public double? Rating { get; } = node.Number("rating_kg");

    public bool HasLift { get; } = node.Has("lift");

    public bool IsRegulated { get; } = node.Has("regulated_kg");

    /// <summary>What to call it when speaking of it.</summary>
    public string Called => Key ?? $"axle {index + 1}";
}

/// <summary>A group as written.</summary>
internal sealed record DraftGroup(string Place, Node Node, ImmutableArray<int> Axles)
{
    /// <summary>The axles that share its load.</summary>
    public ImmutableArray<int> Sharing(Draft draft) => [.. Axles.Where(i => !draft.Axles[i].IsRegulated)];
}
