using System.CommandLine;
using System.Text;
using AxleTelemetry.Service.Commands;

namespace AxleTelemetry.Service.Tests;

/// <summary>Output that cannot be written.</summary>
public sealed class FullDiskTests
{
    [Theory]
    [InlineData("loads", "--payload", "5000")]
    [InlineData("check")]
    public void It_is_told_in_a_sentence_and_is_no_success(string command, params string[] options)
    {
        using StringWriter error = new();
        using var full = new FullDisk();
        Assert.Equal(2, Root.Run([command, ExampleFiles.Rigid, .. options], new InvocationConfiguration { Output = full, Error = error }));
        Assert.Equal("Stopped: reading or writing failed. No space left on device", error.ToString().Trim());
    }

    private sealed class FullDisk : TextWriter
    {
        public override Encoding Encoding => Encoding.UTF8;

        public override void Write(char value) => throw new IOException("No space left on device");
    }
}
