using System.Collections.Immutable;
using InfluxDB.Client;
using InfluxDB.Client.Api.Domain;
using InfluxDB.Client.Core.Exceptions;
using InfluxDB.Client.Writes;

namespace AxleTelemetry.Storage.Series;

/// <summary>Sends points once, compressed. What to do with the outcome is for <see cref="SeriesDelivery"/> to say.</summary>
public sealed class SeriesClient : IDisposable
{
    private static readonly TimeSpan UsualLongest = TimeSpan.FromSeconds(30);
    private const int MostReason = 200;

    private readonly SeriesTarget _target;
    private readonly InfluxDBClient _client;

    /// <summary>Opens nothing yet.</summary>
    /// <param name="target">Where to.</param>
    /// <param name="token">The token; it is shown nowhere.</param>
    /// <param name="longest">How long an answer is waited for; half a minute where it is left out. A connection that died unseen is given up then.</param>
    public SeriesClient(SeriesTarget target, string token, TimeSpan? longest = null)
    {
        _target = target;
        _client = new InfluxDBClient(new InfluxDBClientOptions(target.Address.ToString()) { Token = token, Org = target.Organisation, Bucket = target.Bucket, Timeout = longest ?? UsualLongest });
        _client.EnableGzip();
    }

    /// <summary>Sends points in one request. Never throws for what the database or the network does.</summary>
    public async Task<SendOutcome> SendAsync(ImmutableArray<SeriesPoint> points, CancellationToken cancel)
    {
        try
        {
            await _client.GetWriteApiAsync().WritePointsAsync([.. points.Select(Of)], _target.Bucket, _target.Organisation, cancel).ConfigureAwait(false);
            return new SendOutcome.Taken();
        }
        catch (HttpException answered)
        {
            return Outcome(answered);
        }
        catch (Exception failed) when (failed is HttpRequestException or IOException or TimeoutException || failed is OperationCanceledException && !cancel.IsCancellationRequested)
        {
            return new SendOutcome.Unavailable(Short(failed.Message), null);
        }
    }

    /// <inheritdoc/>
    public void Dispose() => _client.Dispose();

    private static SendOutcome Outcome(HttpException answered) => answered.Status switch
    {
        400 or 422 => new SendOutcome.Refused(Short(answered.Message)),
        413 => new SendOutcome.TooLarge(),
        // A wrong token or bucket is for a person to put right: until then it is as if the database were not there.
        var status => new SendOutcome.Unavailable(FormattableString.Invariant($"{status} {Short(answered.Message)}").Trim(), answered.RetryAfter is { } seconds and > 0 ? TimeSpan.FromSeconds(seconds) : null),
    };

    private static PointData Of(SeriesPoint point)
    {
        var data = PointData.Measurement(point.Identity.Measurement).Timestamp(point.Identity.At.UnixMilliseconds, WritePrecision.Ms);
        foreach (var (name, value) in point.Identity.Tags) data = data.Tag(name, value);
        foreach (var (name, value) in point.Fields)
            data = value switch
            {
                FieldValue.Number number => data.Field(name, number.Value),
                FieldValue.Whole whole => data.Field(name, whole.Value),
                FieldValue.Flag flag => data.Field(name, flag.Value),
                FieldValue.Text text => data.Field(name, text.Value),
                _ => throw new ArgumentOutOfRangeException(nameof(point), value, "A value that nobody writes."),
            };
        return data;
    }

    private static string Short(string text)
    {
        var line = text.ReplaceLineEndings(" ");
        return line.Length <= MostReason ? line : line[..MostReason] + "...";
    }
}
