using SkiaSharp;

namespace AxleTelemetry.Service.Drawing;

/// <summary>The two typefaces a picture needs. None is shipped: they are looked for where systems keep theirs.</summary>
internal sealed record LetterFaces(SKTypeface Plain, SKTypeface Bold) : IDisposable
{
    private static readonly (string Plain, string Bold)[] Known =
    [
        ("DejaVuSans.ttf", "DejaVuSans-Bold.ttf"), ("LiberationSans-Regular.ttf", "LiberationSans-Bold.ttf"), ("NotoSans-Regular.ttf", "NotoSans-Bold.ttf"),
        ("arial.ttf", "arialbd.ttf"), ("Arial.ttf", "Arial Bold.ttf"), ("FreeSans.ttf", "FreeSansBold.ttf"),
    ];

    /// <summary>What to tell where there is none.</summary>
    public static string Missing => $"No typeface for letters was found ({string.Join(", ", Known.Select(k => k.Plain).Distinct(StringComparer.OrdinalIgnoreCase))} under {string.Join(", ", Places())}). Install one, for example the package fonts-dejavu-core, name one by --font FILE, or ask for svg.";

    /// <summary>Finds them; <c>null</c> where there is none.</summary>
    /// <param name="file">A typeface to take for both; <c>null</c>: one of the system's.</param>
    public static LetterFaces? Find(string? file)
    {
        if (file is not null) return SKTypeface.FromFile(file) is { } stated ? new(stated, stated) : null;
        foreach (var place in Places().Where(Directory.Exists))
        {
            foreach (var (plain, bold) in Known)
            {
                if (Under(place, plain) is not { } path || SKTypeface.FromFile(path) is not { } face) continue;
                return new(face, Under(place, bold) is { } heavier && SKTypeface.FromFile(heavier) is { } second ? second : face);
            }
        }

        return null;
    }

    public void Dispose()
    {
        Plain.Dispose();
        Bold.Dispose();
    }

    private static string? Under(string place, string name) =>
        Directory.EnumerateFiles(place, name, new EnumerationOptions { RecurseSubdirectories = true, IgnoreInaccessible = true }).Order(StringComparer.Ordinal).FirstOrDefault();

    private static IEnumerable<string> Places() =>
    [
        "/usr/share/fonts", "/usr/local/share/fonts", "/System/Library/Fonts", "/Library/Fonts",
        .. new[] { Environment.GetFolderPath(Environment.SpecialFolder.Fonts) }.Where(p => p.Length > 0),
    ];
}
