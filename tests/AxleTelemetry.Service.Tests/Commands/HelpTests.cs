using System.CommandLine;
using System.CommandLine.Parsing;
using System.Text.RegularExpressions;
using AxleTelemetry.Service.Commands;
using AxleTelemetry.Service.Tests.Checking;

namespace AxleTelemetry.Service.Tests.Commands;

/// <summary>Whoever asks a command for help learns what it is for, sees it run once and knows what its exit code says.</summary>
public partial class HelpTests
{
    public static TheoryData<string> Names => [.. Root.Create().Subcommands.Select(c => c.Name)];

    [Fact]
    public void The_program_lists_every_command_with_one_sentence_or_two()
    {
        var run = Invocation.Of("--help");
        Assert.Equal(0, run.ExitCode);
        foreach (var command in Root.Create().Subcommands)
        {
            var first = command.Description!.ReplaceLineEndings("\n").Split("\n\n")[0].Replace('\n', ' ');
            Assert.InRange(first.Length, 20, 140);
            Assert.EndsWith(".", first, StringComparison.Ordinal);
            Assert.Matches($@"(?m)^  {command.Name}( .*)? +{Regex.Escape(first)}\s*$", run.Output);
        }
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void A_command_says_what_it_is_for_with_an_example_and_its_exit_codes(string name)
    {
        var run = Invocation.Of(name, "--help");
        Assert.Equal(0, run.ExitCode);
        Assert.Contains("Example", run.Output, StringComparison.Ordinal);
        Assert.Contains("Exit code: 0 ", run.Output, StringComparison.Ordinal);
        Assert.Contains(" 2 ", run.Output[run.Output.IndexOf("Exit code: ", StringComparison.Ordinal)..], StringComparison.Ordinal);
        Assert.NotEmpty(Examples(name));
        Assert.All(run.Output.Split('\n').TakeWhile(l => !l.StartsWith("Usage:", StringComparison.Ordinal)), l => Assert.InRange(l.Length, 0, 145));
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Its_examples_can_be_typed_as_they_stand(string name)
    {
        foreach (var example in Examples(name))
            Assert.True(Root.Create().Parse(example).Errors.Count == 0, $"{example}: {string.Join(' ', Root.Create().Parse(example).Errors)}");
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Files_in_its_examples_that_are_shipped_are_there(string name)
    {
        foreach (var path in Examples(name).SelectMany(e => CommandLineParser.SplitCommandLine(e)).Where(a => a.StartsWith("deploy/examples/", StringComparison.Ordinal)))
            Assert.True(Path.Exists(ExampleFiles.Of(path["deploy/examples/".Length..])), path);
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Every_option_and_argument_is_described(string name)
    {
        var command = Root.Create().Subcommands.Single(c => c.Name == name);
        foreach (Symbol symbol in (Symbol[])[.. command.Options.Where(o => !o.Hidden), .. command.Arguments])
        {
            Assert.False(string.IsNullOrWhiteSpace(symbol.Description), symbol.Name);
            Assert.Matches(@"^[A-Z(].*\.$|^csv, or json", symbol.Description);
        }
    }

    /// <summary>Lines of the description that begin with the program's name, with what goes on below them deeper; without a redirection.</summary>
    private static List<string> Examples(string name) => [.. Example().Matches(Root.Create().Subcommands.Single(c => c.Name == name).Description!.ReplaceLineEndings("\n"))
        .Select(m => m.Value.Trim()["axletelemetry ".Length..].Split(" > ")[0])];

    [GeneratedRegex(@"^( +)axletelemetry .*(\n\1 {4,}\S.*)*", RegexOptions.Multiline)]
    private static partial Regex Example();
}
