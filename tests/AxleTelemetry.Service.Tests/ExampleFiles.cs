namespace AxleTelemetry.Service.Tests;

/// <summary>Paths of the shipped example vehicles.</summary>
internal static class ExampleFiles
{
    public static string Rigid => Of("rigid-6x2-tag.json");

    public static string Tractor => Of("tractor-4x2.json");

    public static string SemiTrailer => Of("semi-tridem-lift-first.json");

    public static string Tickets => Of("tickets-rt-01.csv");

    public static string Of(string name) => Path.Combine(AppContext.BaseDirectory, "examples", name);
}
