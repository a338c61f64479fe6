using System.Globalization;
using System.Text;
using System.Text.Json;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Messages.Payloads;
using AxleTelemetry.Messages.Topics;
using BenchmarkDotNet.Attributes;

namespace AxleTelemetry.Benchmarks.Messages;

/// <summary>
/// What decoding a message costs beside a bare pass of the JSON reader that reads every value of the same bytes. Figures
/// are for a whole message of 30 samples; divide by 30 for a sample.
/// </summary>
[MemoryDiagnoser]
public class DecodeBenchmarks
{
    private const int Samples = 30;
    private const long Start = 1_772_432_045_000;

    private readonly DecodedMessage message = new();
    private byte[] payload = [];
    private Envelope envelope;

    /// <summary>Times as text or as milliseconds.</summary>
    [Params(true, false)]
    public bool TimesAsText { get; set; }

    [GlobalSetup]
    public void Setup()
    {
        var samples = string.Join(',', Enumerable.Range(0, Samples).Select(Sample));
        payload = Encoding.UTF8.GetBytes($$"""{"seq":5,"boot":"5f2c","samples":[{{samples}}]}""");
        var keys = new KeyTable(["drive", "tag", "trailer"], ["front", "drive", "tag", "t1", "t2", "t3"], ["normal", "traction"]);
        envelope = new Envelope(new Topic("north", "T-01", UpStream.Frame), keys, new Moment(Start + 60_000), TimeSpan.FromMinutes(2));
        if (Decode() != Samples * 8 || message.Refusals.Total > 0) throw new InvalidOperationException("The payload does not decode.");
    }

    /// <summary>Numbers read, texts passed over.</summary>
    [Benchmark(Baseline = true)]
    public double ReaderPassWithNumbers()
    {
        var json = new Utf8JsonReader(payload);
        var sum = 0.0;
        while (json.Read())
        {
            if (json.TokenType == JsonTokenType.Number) sum += json.GetDouble();
        }

        return sum;
    }

    /// <summary>Numbers read, and what is long enough for a time read the reader's own way.</summary>
    [Benchmark]
    public double ReaderPassWithNumbersAndTimes()
    {
        var json = new Utf8JsonReader(payload);
        var sum = 0.0;
        while (json.Read())
        {
            if (json.TokenType == JsonTokenType.Number) sum += json.GetDouble();
            else if (json.TokenType == JsonTokenType.String && json.ValueSpan.Length > 20) sum += json.GetDateTimeOffset().ToUnixTimeMilliseconds();
        }

        return sum;
    }

    [Benchmark]
    public int Decode()
    {
        PayloadDecoder.Decode(payload, envelope, message);
        return message.Readings.Length;
    }

    private string Sample(int i)
    {
        var at = new Moment(Start + 1000 * i);
        var t = TimesAsText ? $"\"{at}\"" : at.UnixMilliseconds.ToString(CultureInfo.InvariantCulture);
        var values = string.Create(
            CultureInfo.InvariantCulture,
            $$"""{{412.5 + i}},"tag":{{398.1 + i}},"trailer":{{377.4 + i}}},"axles":{"tag":"loaded"},"lat":{{46.0569 + i * 0.0002:0.0000}},"lon":14.5058,"speed_mps":22.1,"heading_deg":87""");
        return $$"""{"t":{{t}},"kpa":{"drive":{{values}}}""";
    }
}
