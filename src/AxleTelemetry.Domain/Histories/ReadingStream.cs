using AxleTelemetry.Domain.Readings;

namespace AxleTelemetry.Domain.Histories;

/// <summary>A vehicle's readings in their order, one for each identity: the greatest, which stands last.</summary>
internal sealed class ReadingStream(IEnumerable<Reading> readings) : IDisposable
{
    private readonly IEnumerator<Reading> _source = readings.GetEnumerator();
    private bool _any, _begun;

    /// <summary>The present reading. Only after <see cref="Advance"/> was true.</summary>
    public Reading Current { get; private set; }

    /// <summary>Goes to the next reading; false at the end.</summary>
    public bool Advance()
    {
        if (!_begun)
        {
            _begun = true;
            _any = _source.MoveNext();
        }

        if (!_any) return false;
        do
        {
            Current = _source.Current;
            _any = _source.MoveNext();
        }
        while (_any && RecentReadings.IsSame(_source.Current, Current));
        return true;
    }

    /// <inheritdoc/>
    public void Dispose() => _source.Dispose();
}
