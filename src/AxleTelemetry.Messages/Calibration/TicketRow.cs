using System.Collections.Immutable;
using System.Globalization;
using AxleTelemetry.Domain.Calibration;
using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Messages.Calibration;

/// <summary>One row on its way to a ticket; what is wrong goes to the common list, so that every field is looked at.</summary>
internal sealed class TicketRow(int line, ImmutableArray<string> header, ImmutableArray<string> fields, List<TicketProblem> problems)
{
    private static readonly string[] Rfc3339 = ["yyyy-MM-dd'T'HH:mm:ss.FFFFFFFzzz", "yyyy-MM-dd'T'HH:mm:ss.FFFFFFF'Z'"];

    public int Line => line;

    /// <summary>Gross as read, kg; <c>null</c> when the field is empty.</summary>
    public double? Gross { get; private set; }

    /// <summary>The ticket, or <c>null</c> when anything was wrong.</summary>
    public CircuitTicket? Read()
    {
        var before = problems.Count;
        if (fields.Length != header.Length)
        {
            Refuse("row", string.Join(',', fields), $"The header has {header.Length} columns, this line {fields.Length}. Put text with a separator in quotes.");
            return null;
        }
        var weighing = Text("weighing");
        var at = Time();
        var circuit = new CircuitId(Id("vehicle"), Id("sensor"));
        var pressure = Number("kpa", -5, 1600);
        var axle = Number("axle_kg", double.Epsilon, 40_000);
        var method = Method();
        Gross = Field("gross_kg").Length == 0 ? null : Number("gross_kg", 0, 200_000);
        CheckGross(method, axle);
        var note = Note();
        return problems.Count > before ? null
            : new(circuit, Weigh(method!.Value, weighing, (at, Pressure.FromKilopascals(pressure)), Mass.FromKilograms(axle)) with { Note = note });
    }

    private void CheckGross(WeighingMethod? method, double axle)
    {
        if (Gross is { } gross && gross < axle) Refuse("gross_kg", Field("gross_kg"), "The gross is at least axle_kg.");
        if (Gross is null && method == WeighingMethod.FullPlatform)
            Refuse("gross_kg", "", "The method platform needs the gross, since its error follows it.");
    }

    private string Field(string name)
    {
        var index = header.IndexOf(name);
        return index < 0 ? "" : fields[index];
    }

    private void Refuse(string field, string value, string right) => problems.Add(new(line, field, value, right));

    private string Text(string name)
    {
        var value = Field(name);
        if (value.Length is 0 or > 64) Refuse(name, value, "1 to 64 characters are right.");
        return value;
    }

    private string Note()
    {
        var value = Field("note");
        if (value.Length > 500) Refuse("note", value[..20] + "...", "At most 500 characters are right.");
        return value;
    }

    private string Id(string name)
    {
        var value = Field(name);
        if (value.Length is 0 or > 64 || !value.All(c => char.IsAsciiLetterOrDigit(c) || c is '.' or '_' or '-'))
            Refuse(name, value, "1 to 64 of A-Z a-z 0-9 . _ - are right.");
        return value;
    }

    private double Number(string name, double least, double most)
    {
        var value = Field(name);
        var range = least == double.Epsilon 
            ? FormattableString.Invariant($"above 0 and at most {most}")
            : FormattableString.Invariant($"from {least} to {most}");
        if (!double.TryParse(value, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var number))
            Refuse(name, value, $"A number {range} is right, with a point for decimals and nothing between thousands, for example 7480.5.");
        else if (!(number >= least && number <= most)) Refuse(name, value, $"A number {range} is right.");
        else return number;
        return double.NaN;
    }

    private Moment Time()
    {
        var value = Field("time");
        if (DateTimeOffset.TryParseExact(value, Rfc3339, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal, out var time))
            return new(time.ToUnixTimeMilliseconds());
        Refuse("time", value, "RFC 3339 with Z or an offset is right, for example 2026-03-02T06:14:05Z or 2026-03-02T07:14:05+01:00.");
        return default;
    }

    private WeighingMethod? Method()
    {
        var value = Field("method");
        if (MethodName.Parse(value) is { } method) return method;
        Refuse("method", value, $"{MethodName.All} is right.");
        return null;
    }

    private Ticket Weigh(WeighingMethod method, string weighing, (Moment At, Pressure Pressure) seen, Mass axle) => method switch
    {
        WeighingMethod.FullPlatform => Ticket.FullPlatform(weighing, seen.At, seen.Pressure, (axle, Mass.FromKilograms(Gross!.Value))),
        WeighingMethod.AxleByAxle => Ticket.AxleByAxle(weighing, seen.At, seen.Pressure, axle),
        WeighingMethod.Dynamic => Ticket.Dynamic(weighing, seen.At, seen.Pressure, axle),
        _ => throw new ArgumentOutOfRangeException(nameof(method), method, "A weighing method without a ticket."),
    };
}
