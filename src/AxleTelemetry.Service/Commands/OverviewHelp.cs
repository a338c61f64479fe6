using System.CommandLine;
using System.CommandLine.Help;
using System.CommandLine.Invocation;

namespace AxleTelemetry.Service.Commands;

/// <summary>Help of the program itself: one paragraph per command. What a command teaches at length is in its own help.</summary>
internal sealed class OverviewHelp(HelpAction full) : SynchronousCommandLineAction
{
    public static void Use(RootCommand root)
    {
        var option = root.Options.OfType<HelpOption>().Single();
        option.Action = new OverviewHelp((HelpAction)option.Action!);
    }

    // Whoever asks for help need not have typed the rest right.
    public override bool ClearsParseErrors => true;

    public override int Invoke(ParseResult parseResult)
    {
        if (parseResult.CommandResult.Command is RootCommand root)
            foreach (var command in root.Subcommands)
                command.Description = FirstParagraph(command.Description ?? "");
        return full.Invoke(parseResult);
    }

    private static string FirstParagraph(string text) =>
        text.ReplaceLineEndings("\n").Split("\n\n")[0].Replace('\n', ' ');
}
