using System.Collections.Immutable;
using AxleTelemetry.Domain.Calibration;
using AxleTelemetry.Service.Inputs;

namespace AxleTelemetry.Service.Calibrating;

/// <summary>Where the pictures of an order go.</summary>
internal static class FitPictures
{
    /// <summary>Writes a picture for each sheet where one is asked for; the names of those written.</summary>
    public static ImmutableArray<string> Save(CalibrationOrder order, ImmutableArray<CalibrationSheet> sheets, List<string> problems)
    {
        if (order.Picture is not { } asked) return [];
        ImmutableArray<string> names = [.. sheets.Select(sheet => order.EachCircuit && sheet.Circuit is { } circuit ? NameFor(asked.ToString(), circuit) : asked.ToString())];
        for (var i = 0; i < sheets.Length; i++) Save(names[i], FitPicture.Of(sheets[i]), problems);
        return names;
    }

    /// <summary><c>fit.svg</c> becomes <c>fit-drive.svg</c>: a sensor's key has no character that a file name could not have.</summary>
    private static string NameFor(string file, CircuitId circuit) => Path.Combine(
        Path.GetDirectoryName(file) ?? "", $"{Path.GetFileNameWithoutExtension(file)}-{circuit.Sensor}{Path.GetExtension(file)}");

    private static void Save(string file, string picture, List<string> problems)
    {
        try
        {
            File.WriteAllText(file, picture);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            problems.Add(new InputProblem("--svg", "", $"'{file}'", $"The picture cannot be written. {e.Message}").ToString());
        }
    }
}
