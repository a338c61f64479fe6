namespace AxleTelemetry.Service.Tests.Planning;

/// <summary>Kept outputs, refreshed on request: UPDATE_PLANS=1, then read the difference.</summary>
internal static class Golden
{
    private const string Refresh = "UPDATE_PLANS";

    /// <param name="name">The kept file, from the root of the repository.</param>
    /// <param name="output">What came.</param>
    public static void Holds(string name, string output)
    {
        var kept = Path.Combine([Root(), .. name.Split('/')]);
        if (Environment.GetEnvironmentVariable(Refresh) == "1") File.WriteAllText(kept, output);
        Assert.True(File.Exists(kept) && File.ReadAllText(kept).ReplaceLineEndings("\n") == output, $"The plan changed. Where that was wanted, run this test with {Refresh}=1 and read the difference in {name}.\n{output}");
    }

    private static string Root()
    {
        var at = new DirectoryInfo(AppContext.BaseDirectory);
        while (at is not null && !File.Exists(Path.Combine(at.FullName, "AxleTelemetry.sln"))) at = at.Parent;
        return at?.FullName ?? throw new InvalidOperationException("The repository is not above the tests.");
    }
}
