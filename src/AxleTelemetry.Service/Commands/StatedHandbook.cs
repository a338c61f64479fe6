using System.CommandLine;
using System.Globalization;
using AxleTelemetry.Domain.Calibration;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Service.Calibrating;

namespace AxleTelemetry.Service.Commands;

/// <summary>The options of <c>calibrate</c> for a circuit that no vehicle file describes.</summary>
internal sealed class StatedHandbook
{
    private readonly Option<string?> _area = new("--area-cm2") { Description = "Effective area of one bellows at driving height, cm2.", HelpName = "CM2" };
    private readonly Option<string> _bellows = new("--bellows") { Description = "Bellows on the axle.", DefaultValueFactory = _ => "2", HelpName = "NUMBER" };
    private readonly Option<string> _lever = new("--lever") { Description = "(Pivot to bellows) / (pivot to axle).", DefaultValueFactory = _ => "1", HelpName = "RATIO" };
    private readonly Option<string?> _gain = new("--kg-per-kpa") { Description = "Handbook gain, kg of sprung load per kPa, instead of --area-cm2.", HelpName = "GAIN" };
    private readonly Option<string?> _unsprung = new("--unsprung-kg") { Description = "Unsprung mass of the axle: axle, wheels, brakes, tyres. Needed without --vehicle.", HelpName = "KG" };
    private readonly Option<string?> _typical = new("--typical-kg") { Description = "Axle load of the full vehicle; intervals are shown at 40, 70, 100 % of it. Needed without --vehicle.", HelpName = "KG" };

    public IEnumerable<Option> All => [_area, _bellows, _lever, _gain, _unsprung, _typical];

    /// <summary>What is stated, or <c>null</c> with every problem listed.</summary>
    public CircuitSetup? Read(ParseResult parsed, List<string> problems)
    {
        var before = problems.Count;
        var unsprung = Needed(parsed, _unsprung, 750, problems);
        var typical = Needed(parsed, _typical, 9000, problems);
        if (unsprung >= typical) problems.Add("--unsprung-kg must be less than --typical-kg.");
        var gain = Gain(parsed, problems);
        if (problems.Count > before) return null;
        var load = Mass.FromKilograms(typical);
        return new(HandbookPrior.FromGain(gain, load), Mass.FromKilograms(unsprung), load);
    }

    private static double Needed(ParseResult parsed, Option<string?> option, int example, List<string> problems)
    {
        if (parsed.GetValue(option) is { } text) return Number(option, text, 40_000, problems);
        problems.Add($"{option.Name} is needed, for example {option.Name} {example}, or a vehicle file with --vehicle.");
        return double.NaN;
    }

    /// <summary>Read here and not by the command line, so that a slip of the pen is told in words and beside the others.</summary>
    private static double Number(Option option, string text, double most, List<string> problems)
    {
        if (double.TryParse(text, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var value)
            && value > 0 && value <= most) return value;
        problems.Add(FormattableString.Invariant($"{option.Name} '{text}' must be a number above 0 and at most {most}, with a point for decimals."));
        return double.NaN;
    }

    private double Gain(ParseResult parsed, List<string> problems)
    {
        string? gain = parsed.GetValue(_gain), area = parsed.GetValue(_area);
        if (gain is null == area is null)
        {
            problems.Add("The handbook gain is needed once: --area-cm2 with --bellows and --lever, or --kg-per-kpa, or a vehicle file with --vehicle.");
            return double.NaN;
        }
        if (gain is not null)
        {
            foreach (var option in new[] { _bellows, _lever }.Where(option => parsed.GetResult(option) is { Implicit: false }))
                problems.Add($"{option.Name} is already in --kg-per-kpa: leave it out, or state --area-cm2 instead.");
            return Number(_gain, gain, 1000, problems);
        }
        var size = Number(_area, area!, 10_000, problems);
        var bellows = Number(_bellows, parsed.GetValue(_bellows)!, 8, problems);
        var lever = Number(_lever, parsed.GetValue(_lever)!, 10, problems);
        if (bellows != Math.Floor(bellows)) problems.Add("--bellows must be a whole number.");
        return problems.Count > 0 ? double.NaN : new BellowsGeometry(size, (int)bellows, lever).KilogramsPerKilopascal;
    }
}
