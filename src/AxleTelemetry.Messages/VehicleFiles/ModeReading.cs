using System.Collections.Immutable;

namespace AxleTelemetry.Messages.VehicleFiles;

/// <summary>How axles share in one mode, from the modes of a file or, where it has none, from its axles.</summary>
/// <param name="Name">Name of the mode.</param>
/// <param name="Weights">Weight by axle; <c>null</c> where one is needed and missing, 0 for a regulated axle.</param>
/// <param name="Offsets">Offset by axle, kg.</param>
/// <param name="OffsetsPath">Where the offsets stand.</param>
internal sealed record ModeReading(string Name, ImmutableArray<double?> Weights, ImmutableArray<double> Offsets, string OffsetsPath)
{
    /// <summary>Name of the mode that every vehicle has.</summary>
    public const string Normal = "normal";

    /// <summary>The modes, the normal one first.</summary>
    public static ImmutableArray<ModeReading> Of(Draft draft) =>
        draft.Root.Has("modes") ? [.. draft.Root.Parts("modes").Select(mode => OfMode(draft, mode))] : [OfAxles(draft)];

    private static ModeReading OfAxles(Draft draft) => new(
        Normal,
        [.. draft.Axles.Select(a => a.IsRegulated ? 0 : a.Node.Number("share") ?? 1)],
        [.. draft.Axles.Select(a => a.Node.Number("offset_kg") ?? 0)],
        draft.Root.PathOf("axles"));

    private static ModeReading OfMode(Draft draft, Node mode)
    {
        var shares = mode.ByAxle("shares");
        var offsets = mode.ByAxle("offsets_kg");
        var alone = draft.Groups.Select(g => g.Sharing(draft)).Where(s => s.Length == 1).Select(s => s[0]).ToHashSet();
        double? Weight(DraftAxle axle)
        {
            if (axle.IsRegulated) return 0;
            if (axle.Key is not null && shares is not null && shares.TryGetValue(axle.Key, out var share)) return share;
            // Without shares all are equal; an axle alone in its group carries it whole.
            return shares is null || alone.Contains(axle.Index) ? 1 : null;
        }

        return new ModeReading(
            mode.Text("name") ?? "",
            [.. draft.Axles.Select(Weight)],
            [.. draft.Axles.Select(a => a.Key is null ? 0 : offsets?.GetValueOrDefault(a.Key) ?? 0)],
            mode.PathOf("offsets_kg"));
    }
}
