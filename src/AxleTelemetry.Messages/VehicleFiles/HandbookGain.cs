using System.Collections.Immutable;
using AxleTelemetry.Domain.Calibration;
using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Messages.VehicleFiles;

/// <summary>What a file's handbook entry says of a circuit, by geometry or outright.</summary>
internal static class HandbookGain
{
    /// <summary>The properties of the geometry; they go together.</summary>
    public static ImmutableArray<string> Geometry { get; } = ["effective_area_cm2", "bellows_per_axle", "lever_ratio"];

    /// <summary>The gain, kg per kPa; <c>null</c> where the entry is incomplete.</summary>
    public static double? Of(Node handbook)
    {
        if (handbook.Number("kg_per_kpa") is { } gain) return gain;
        return handbook.Number("effective_area_cm2") is { } area && handbook.Number("bellows_per_axle") is { } bellows && handbook.Number("lever_ratio") is { } lever
            ? new BellowsGeometry(area, (int)bellows, lever).KilogramsPerKilopascal
            : null;
    }

    /// <summary>The fit before any ticket, for the reference axle of a circuit.</summary>
    public static CircuitFit Fit(double gain, DraftAxle reference)
    {
        var prior = HandbookPrior.FromGain(gain, Mass.FromKilograms(reference.Rating!.Value));
        return CircuitCalibration.Fit(prior, [], Mass.FromKilograms(reference.Unsprung!.Value), CalibrationVersion.NameOf([])) is Calibrated calibrated
            ? calibrated.Fit
            : throw new InvalidOperationException("A handbook alone always gives a fit.");
    }

    /// <summary>What is written, for people.</summary>
    public static string Written(Node handbook)
    {
        var names = Geometry.Append("kg_per_kpa").Where(handbook.Has).ToList();
        return names.Count == 0 ? "neither" : string.Join(", ", names);
    }
}
