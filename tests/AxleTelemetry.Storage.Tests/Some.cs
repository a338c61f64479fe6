using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Storage.Reading;
using AxleTelemetry.Storage.Rows;

namespace AxleTelemetry.Storage.Tests;

/// <summary>Rows for tests.</summary>
internal static class Some
{
    public const long Start = 1_772_432_000_000;

    public static readonly VehicleKey Truck = new("north", "T-01");
    public static readonly VehicleKey Other = new("north", "T-02");
    public static readonly RowKind Kind = new(1);

    public static SampleSpan Always => new(new Moment(Start - (1L << 40)), new Moment(Start + (1L << 40)));

    public static Moment At(double seconds) => new Moment(Start).Plus(seconds);

    public static ImmutableArray<byte> Bytes(string text) => [.. Encoding.UTF8.GetBytes(text)];

    public static InputRow Input(VehicleKey vehicle, double seconds, string text = "x") => new()
    {
        Vehicle = vehicle,
        Kind = Kind,
        Stream = new StreamCode(3),
        Received = At(seconds + 1),
        Samples = new SampleSpan(At(seconds), At(seconds + 0.5)),
        Bytes = Bytes(text),
    };

    public static HistoryRow.Put Put(double seconds, string text, string key = "k") => new(Key(seconds, key), Bytes(text));

    public static HistoryKey Key(double seconds, string key = "k") => new(Truck, Kind, At(seconds), key);

    public static TellingRow Telling(double seconds, string text) => new(Truck, Kind, "k") { At = At(seconds), Bytes = Bytes(text) };

    /// <summary>All of an input in one line, to compare.</summary>
    public static string Line(LoggedInput input) => string.Create(CultureInfo.InvariantCulture,
        $"{input.Position} {input.Row.Vehicle} {input.Row.Kind.Code} {input.Row.Stream.Code} {input.Row.Received} {input.Row.Samples} {Convert.ToHexString(input.Row.Bytes.AsSpan())}");

    public static string Line(OutputChange change) => change switch
    {
        OutputChange.Told told => $"told {Text(told.Row.Bytes)}",
        OutputChange.History { Row: HistoryRow.Put put } => $"put {put.Key.Key} {Text(put.Bytes)}",
        OutputChange.History { Row: HistoryRow.Void gone } => $"void {gone.Key.Key}",
        _ => throw new InvalidOperationException(change.ToString()),
    };

    public static string Text(ImmutableArray<byte> bytes) => Encoding.UTF8.GetString(bytes.AsSpan());
}
