using System.Globalization;
using AxleTelemetry.Domain.Calibration;
using AxleTelemetry.Service.Drawing;
using static System.FormattableString;

namespace AxleTelemetry.Service.Calibrating;

/// <summary>The picture of a fit: the line with its 95 % band and the tickets above, what the tickets depart by below, one pressure axis for both.</summary>
internal sealed class FitPicture
{
    private const double Width = 860;
    private const double Height = 640;
    private const double Left = 88;
    private const double Right = 826;
    private const double UpperTop = 84;
    private const double LowerTop = 444;
    private const double LowerBottom = 580;

    private const string Look = """

        text { paint-order: stroke; stroke: #fdfcf9; stroke-width: 3px; stroke-linejoin: round; font-family: 'DejaVu Sans', 'Helvetica Neue', Arial, sans-serif; font-size: 12px; fill: #2b2f33 }
        .title { font-size: 17px; font-weight: bold } .sub { fill: #5a6067 } .end { text-anchor: end } .middle { text-anchor: middle }
        .paper { fill: #fdfcf9 } .grid { stroke: #e6e2d9 } .axis { stroke: #2b2f33 } .zero { stroke: #24516e; stroke-width: 1.6 }
        .band { fill: #24516e; fill-opacity: .16 } .outer { fill: none; stroke: #24516e; stroke-width: .8; stroke-dasharray: 1 3 }
        .fit { fill: none; stroke: #24516e; stroke-width: 2 } .far { fill: none; stroke: #24516e; stroke-width: 2; stroke-dasharray: 2 4 }
        .handbook { fill: none; stroke: #8b8270; stroke-width: 1.3; stroke-dasharray: 8 4 } .brown { fill: #6d6555 } .blue { fill: #24516e }
        .ticket { fill: #fdfcf9; stroke: #2b2f33; stroke-width: 1.5 } .whisker { stroke: #2b2f33 }
        .bad { fill: none; stroke: #a3261b; stroke-width: 2.2 } .red { fill: #a3261b; font-weight: bold }

        """;

    private readonly double _upperBottom;
    private readonly CalibrationSheet _sheet;
    private readonly SvgPage _page;
    private readonly Scale _pressure;
    private readonly Scale _load;
    private readonly Scale _residual;

    private FitPicture(CalibrationSheet sheet)
    {
        _sheet = sheet;
        // Without tickets there is nothing to depart from the line: the upper panel takes the room.
        _upperBottom = sheet.Tickets.IsEmpty ? LowerBottom : 400;
        _page = new(Width, Height, Look, (Title, Invariant($"{Words} Suspicious tickets: {Names}.")));
        double[] ends = [.. sheet.Levels.Select(level => level.Kilopascals), .. sheet.Tickets.Select(ticket => ticket.Pressure.Kilopascals)];
        _pressure = Scale.Around(ends, 7, Left, Right);
        double[] lows = [_pressure.Least, _pressure.Most];
        _load = Scale.Around([.. lows.SelectMany(Reach), .. sheet.Tickets.Select(ticket => ticket.AxleLoad.Kilograms / 1000)], 6, _upperBottom, UpperTop);
        double[] residuals = [.. sheet.Screening.Checks.Select(check => check.ResidualKilograms), .. Widest(1), .. Widest(-1)];
        _residual = Scale.Around(residuals, 4, LowerBottom, LowerTop);
    }

    private string Title => _sheet.Circuit is null ? "Handbook alone: axle load from bellows pressure" : $"{_sheet.Circuit}: axle load from bellows pressure";

    private string Words => Invariant(
        $"Axle load = {_sheet.Unsprung.Kilograms:0} kg unsprung {_sheet.Fit.OffsetKilograms:+ 0.#;- 0.#;+ 0} kg + {_sheet.Fit.KilogramsPerKilopascal:0.000} kg/kPa x pressure; {CalibrationTables.Count(_sheet)}; version {_sheet.Fit.Version}{Age}.");

    private string Age => _sheet.At is { } at && !_sheet.Tickets.IsEmpty ? $", widened to {at.ToString()[..10]}" : "";

    private string Names => _sheet.Suspicious.Any() ? string.Join(", ", _sheet.Suspicious.Select(check => check.Ticket.Weighing)) : "none";

    public static string Of(CalibrationSheet sheet)
    {
        var picture = new FitPicture(sheet);
        picture.Frame();
        picture.Lines();
        picture.Residuals();
        picture.Tickets();
        return picture._page.ToString();
    }

    private IEnumerable<double> Reach(double pressure)
    {
        var interval = _sheet.Fit.ReadingIntervalAt(pressure);
        return [Axle(interval.Low.Kilograms), Axle(interval.High.Kilograms)];
    }

    private IEnumerable<double> Widest(int sign) => new[] { _pressure.Least, _pressure.Most }
        .Select(p => sign * _sheet.Fit.ReadingIntervalAt(p).HalfWidth.Kilograms);

    private double Axle(double sprungKilograms) => (sprungKilograms + _sheet.Unsprung.Kilograms) / 1000;

    private (double X, double Y) Upper(double pressure, double tonnes) => (_pressure.At(pressure), _load.At(tonnes));

    private (double X, double Y) Lower(double pressure, double kilograms) => (_pressure.At(pressure), _residual.At(kilograms));

    private void Frame()
    {
        _page.Text("title", (Left, 34), Title);
        _page.Text("sub", (Left, 56), Words);
        foreach (var p in _pressure.Ticks)
        {
            _page.Line("grid", (_pressure.At(p), UpperTop), (_pressure.At(p), _upperBottom));
            if (!_sheet.Tickets.IsEmpty) _page.Line("grid", (_pressure.At(p), LowerTop), (_pressure.At(p), LowerBottom));
            _page.Text("middle", (_pressure.At(p), LowerBottom + 18), p.ToString("0.###", CultureInfo.InvariantCulture));
        }
        Rungs(_load, _load.Step < 1 ? "0.0" : "0");
        _page.Text("middle", ((Left + Right) / 2, LowerBottom + 42), "Bellows pressure, kPa above atmosphere");
        _page.Text("middle", (24, (UpperTop + _upperBottom) / 2), "Axle load, t", -90);
    }

    private void Rungs(Scale scale, string format)
    {
        foreach (var value in scale.Ticks)
        {
            _page.Line("grid", (Left, scale.At(value)), (Right, scale.At(value)));
            _page.Text("end", (Left - 8, scale.At(value) + 4), value.ToString(format, CultureInfo.InvariantCulture));
        }
        _page.Line("axis", (Left, scale.Start), (Left, scale.End));
        _page.Line("axis", (Left, scale.Start), (Right, scale.Start));
    }

    private IEnumerable<double> Steps(double from, double to) => Enumerable.Range(0, 61).Select(i => from + (to - from) * i / 60);

    private IEnumerable<(double, double)> Edge(Func<double, LoadInterval> interval, int side) => Steps(_pressure.Least, _pressure.Most).Select(p =>
    {
        var found = interval(p);
        return Upper(p, Axle(found.Estimate.Kilograms + side * found.HalfWidth.Kilograms));
    });

    private void Lines()
    {
        var fit = _sheet.Fit;
        _page.Path("band", Edge(p => fit.IntervalAt(p), 1).Concat(Edge(p => fit.IntervalAt(p), -1).Reverse()), closed: true);
        foreach (var side in new[] { -1, 1 }) _page.Path("outer", Edge(p => fit.ReadingIntervalAt(p), side));
        var (near, far) = (fit.LeastPressure ?? _pressure.Least, fit.GreatestPressure ?? _pressure.Most);
        Segment("far", _pressure.Least, near);
        Segment("fit", near, far);
        Segment("far", far, _pressure.Most);
        Key();
        if (_sheet.Tickets.IsEmpty) return;
        double Handbook(double p) => Axle(_sheet.Handbook.OffsetKilograms + _sheet.Handbook.KilogramsPerKilopascal * p);
        var inside = Steps(_pressure.Least, _pressure.Most).Where(p => Handbook(p) >= _load.Least && Handbook(p) <= _load.Most);
        _page.Path("handbook", inside.Select(p => Upper(p, Handbook(p))));
    }

    private void Segment(string look, double from, double to) =>
        _page.Path(look, new[] { from, to }.Select(p => Upper(p, Axle(_sheet.Fit.At(p)))));

    private void Key()
    {
        string[] words = _sheet.Tickets.IsEmpty
            ? ["fit", "95 % of the line", "95 % of one reading"]
            : ["fit", "beyond the tickets", "95 % of the line", "95 % of one reading", "handbook"];
        for (var i = 0; i < words.Length; i++)
        {
            double x = Left + 14, y = UpperTop + 18 + 18 * i;
            if (words[i] == "95 % of the line") _page.Path("band", [(x, y - 5), (x + 30, y - 5), (x + 30, y + 5), (x, y + 5)], closed: true);
            else _page.Line(words[i] switch { "fit" => "fit", "handbook" => "handbook", "beyond the tickets" => "far", _ => "outer" }, (x, y), (x + 30, y));
            _page.Text("", (x + 38, y + 4), words[i]);
        }
    }

    private void Residuals()
    {
        if (_sheet.Tickets.IsEmpty) return;
        Rungs(_residual, "+0;-0;0");
        _page.Text("middle", (24, (LowerTop + LowerBottom) / 2), "Ticket less fit, kg", -90);
        _page.Line("zero", (Left, _residual.At(0)), (Right, _residual.At(0)));
        foreach (var side in new[] { -1, 1 })
            _page.Path("outer", Steps(_pressure.Least, _pressure.Most).Select(p => Lower(p, side * _sheet.Fit.ReadingIntervalAt(p).HalfWidth.Kilograms)));
    }

    private void Tickets()
    {
        foreach (var check in _sheet.Screening.Checks)
        {
            var pressure = check.Ticket.Pressure.Kilopascals;
            Mark(check, Upper(pressure, check.Ticket.AxleLoad.Kilograms / 1000));
            var reach = 1.96 * check.Ticket.Deviation.Kilograms;
            double Within(double kilograms) => Math.Clamp(kilograms, _residual.Least, _residual.Most);
            _page.Line("whisker", Lower(pressure, Within(check.ResidualKilograms - reach)), Lower(pressure, Within(check.ResidualKilograms + reach)));
            Mark(check, Lower(pressure, check.ResidualKilograms));
        }
    }

    /// <summary>A suspicious ticket is told by shape and word, not by colour alone.</summary>
    private void Mark(TicketCheck check, (double X, double Y) at)
    {
        if (check.Suspicion == TicketSuspicion.None)
        {
            _page.Circle("ticket", at, 4.5);
            return;
        }
        _page.Line("bad", (at.X - 5.5, at.Y - 5.5), (at.X + 5.5, at.Y + 5.5));
        _page.Line("bad", (at.X - 5.5, at.Y + 5.5), (at.X + 5.5, at.Y - 5.5));
        // The line rises to the right: to the left of a ticket above it, to the right of one below it, the words stay clear of it.
        const double room = 150;
        var left = check.ResidualKilograms > 0 ? at.X > Left + room : at.X > Right - room;
        _page.Text(left ? "red end" : "red", (at.X + (left ? -11 : 11), at.Y + 4), $"{check.Ticket.Weighing}, suspicious");
    }
}
