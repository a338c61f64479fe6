using System.Globalization;
using System.Text;
using AxleTelemetry.Simulator.Chance;

namespace AxleTelemetry.Benchmarks.Serving;

/// <summary>
/// A payload of some samples of steady driving, encoded once; before it is sent again only its digits that tell moment and place are
/// written anew, in place.
/// </summary>
internal sealed class LoadPayload
{
    private const string Moment = "0000000000000", Place = "46.0000";

    private readonly int[] _moments, _places;

    /// <param name="samples">Samples in it.</param>
    /// <param name="pressures">Pressures of the drive and the tag axle, kPa.</param>
    /// <param name="random">Draws the noise of the readings.</param>
    public LoadPayload(int samples, (double Drive, double Tag) pressures, SeededRandom random)
    {
        var text = new StringBuilder("{\"seq\":1042,\"samples\":[");
        for (var i = 0; i < samples; i++) text.Append(i == 0 ? "" : ",").Append(Sample(pressures, random));
        Bytes = Encoding.UTF8.GetBytes(text.Append("]}").ToString());
        _moments = [.. Found(Moment)];
        _places = [.. Found(Place)];
    }

    /// <summary>The bytes as they were stamped last.</summary>
    public byte[] Bytes { get; }

    /// <summary>Samples in it.</summary>
    public int Samples => _moments.Length;

    /// <summary>Gives its samples their moments and places.</summary>
    /// <param name="first">Moment of the first sample, Unix milliseconds.</param>
    /// <param name="every">Milliseconds between two.</param>
    public void Stamp(long first, long every) => Stamp(Bytes, first, every);

    /// <summary>Does the same in a copy of the bytes.</summary>
    public void Stamp(Span<byte> bytes, long first, long every)
    {
        for (var i = 0; i < _moments.Length; i++)
        {
            var at = first + i * every;
            Digits(bytes.Slice(_moments[i], Moment.Length), at);
            // 22 m/s northwards, and from the beginning again after an hour and a half.
            Digits(bytes.Slice(_places[i] + 3, 4), at / 1000 * 2 % 10_000);
        }
    }

    private static string Sample((double Drive, double Tag) pressures, SeededRandom random) => string.Create(
        CultureInfo.InvariantCulture,
        $$$"""{"t":{{{Moment}}},"kpa":{"drive":{{{pressures.Drive + random.Normal(2):0.0}}},"tag":{{{pressures.Tag + random.Normal(2):0.0}}}},"lat":{{{Place}}},"lon":15.6,"alt_m":249.9,"heading_deg":0.1,"speed_mps":{{{22 + random.Normal(0.05):0.00}}}}""");

    private static void Digits(Span<byte> place, long value)
    {
        for (var i = place.Length - 1; i >= 0; i--, value /= 10) place[i] = (byte)('0' + value % 10);
    }

    private IEnumerable<int> Found(string text)
    {
        var wanted = Encoding.ASCII.GetBytes(text);
        for (var from = 0; Bytes.AsSpan(from).IndexOf(wanted) is var at and >= 0; from += at + wanted.Length) yield return from + at;
    }
}
