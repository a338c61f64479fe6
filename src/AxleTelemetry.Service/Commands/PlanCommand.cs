using System.CommandLine;
using System.Text;
using System.Text.Json;
using AxleTelemetry.Service.Drawing;
using AxleTelemetry.Service.Inputs;
using AxleTelemetry.Service.Planning;
using AxleTelemetry.Service.Serving;

namespace AxleTelemetry.Service.Commands;

/// <summary>Where payload may stand, which position of the lifts is right for a load, what drops on the way do.</summary>
internal sealed class PlanCommand
{
    private const string Description = """
        Plan a load: where payload may stand in every position of the lifts, and what each drop of a trip does.

        The load-distribution diagram (greatest and least payload by the place of its centre, each stretch with what bounds it), all limits
        for the load you state, which position of the lifts is right, room in bends, and grades it can move off on.

        Example, a rigid that carries 11 t, its centre 4.2 m behind the first axle:
          axletelemetry plan deploy/examples/rigid-6x2-tag.json --payload 11000 --centre 4.2

        Example, three drops from the rear of a semi-trailer, places from the kingpin, as a picture:
          axletelemetry plan deploy/examples/tractor-4x2.json deploy/examples/semi-tridem-lift-first.json --trip national
                              --drop 8000@9.5 --drop 7000@6 --drop 7000@2.8 --out plan.svg

        Exit code: 0 permitted at every stage in some position of the lifts, 1 at some stage in none, 2 bad input, every error told at once.
        """;

    private static readonly JsonSerializerOptions Indented = new(JsonText.Options) { WriteIndented = true, NewLine = "\n" };

    private readonly InputOptions _input = new(TimeProvider.System);
    private readonly PlanOptions _plan = new();

    private PlanCommand()
    {
    }

    public static Command Create()
    {
        var plan = new PlanCommand();
        var command = new Command("plan", Description);
        plan._input.AddTo(command);
        plan._plan.AddTo(command);
        command.SetAction(plan.Run);
        return command;
    }

    private int Run(ParseResult parsed)
    {
        var (output, error) = (parsed.InvocationConfiguration.Output, parsed.InvocationConfiguration.Error);
        var errors = new List<InputProblem>();
        var (ask, form) = (_plan.Ask(parsed, errors), _plan.Output(parsed, errors));
        switch (_input.Load(parsed))
        {
            case InputResult.Refused refused:
                return Refuse([.. errors, .. refused.Errors], error);
            case InputResult.Loaded loaded:
                foreach (var warning in loaded.Input.Warnings) error.WriteLine($"Note: {warning}");
                var basis = new PlanBasis(loaded.Input.Setup, loaded.Input.LimitsLine, null);
                if (PlanOrdering.Of(basis, (ask, PlanFields.Command), errors) is not { } order || errors.Count > 0) return Refuse(errors, error);
                var sheet = PlanDesk.Work(order);
                if (Write(sheet, form, output) is { } failed) return Refuse([failed], error);
                return sheet.Stages.All(s => s.Plan.Configurations.Any(c => c.IsPermitted)) ? ExitCode.Done : ExitCode.Over;
            default:
                throw new InvalidOperationException("An outcome of loading that nobody handles.");
        }
    }

    private static InputProblem? Write(PlanSheet sheet, PlanOutput form, TextWriter output)
    {
        if (form.Format == "png") return WritePng(sheet, form, output);
        var text = new StringWriter { NewLine = "\n" };
        if (form.Format == "json") text.WriteLine(JsonSerializer.Serialize(PlanWriting.Of(sheet), Indented));
        else if (form.Format == "svg") text.Write(SceneSvg.Of(PlanPicture.Of(sheet)));
        else new PlanText(sheet, text).Write();
        if (form.File is null) output.Write(text.ToString());
        else if (Save(form.File, Encoding.UTF8.GetBytes(text.ToString()), output) is { } failed) return failed;
        return null;
    }

    private static InputProblem? WritePng(PlanSheet sheet, PlanOutput form, TextWriter output)
    {
        using var faces = LetterFaces.Find(form.Font);
        if (faces is null) return form.Font is { } file ? new("--font", "", $"'{file}'", "No typeface could be read from it. Right would be a TrueType or OpenType file.") : new("--format", "", "'png'", LetterFaces.Missing);
        return Save(form.File!, ScenePng.Of(PlanPicture.Of(sheet), faces), output);
    }

    private static InputProblem? Save(string file, byte[] bytes, TextWriter output)
    {
        try
        {
            File.WriteAllBytes(file, bytes);
        }
        catch (Exception failed) when (failed is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            return new("--out", "", $"'{file}'", $"It cannot be written. {failed.Message}");
        }

        output.WriteLine($"Written: {file}");
        return null;
    }

    private static int Refuse(IEnumerable<InputProblem> problems, TextWriter error)
    {
        foreach (var problem in problems) error.WriteLine(problem);
        return ExitCode.BadInput;
    }
}
