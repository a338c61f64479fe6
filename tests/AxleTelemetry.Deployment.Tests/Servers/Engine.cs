using AxleTelemetry.Service.Tests.Watching;

namespace AxleTelemetry.Deployment.Tests.Servers;

/// <summary>The Docker engine of this machine, where there is one.</summary>
internal static class Engine
{
    private const string Version = "DOCKER_API_VERSION";

    private static readonly Lazy<Task<bool>> Answers = new(async () =>
    {
        try
        {
            await using var asked = RunningProgram.Start("docker", "version", "--format", "{{.Server.APIVersion}}");
            if (await asked.Exit() != 0) return false;
            // The library asks by the newest interface it knows, which an older engine turns away.
            if (Environment.GetEnvironmentVariable(Version) is null) Environment.SetEnvironmentVariable(Version, asked.Output.All[0]);
            return true;
        }
        catch (System.ComponentModel.Win32Exception)
        {
            // There is no such program.
            return false;
        }
    });

    public static Task<bool> IsThere => Answers.Value;

    /// <summary>An image by a variable of the environment, as compose takes it.</summary>
    public static string Image(string variable, string otherwise) => Environment.GetEnvironmentVariable(variable) is { Length: > 0 } set ? set : otherwise;

    /// <summary>True where an image is on this machine.</summary>
    public static async Task<bool> Has(string image)
    {
        await using var asked = RunningProgram.Start("docker", "image", "inspect", image);
        return await asked.Exit() == 0;
    }
}
