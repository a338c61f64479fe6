using AxleTelemetry.Domain.Readings;

namespace AxleTelemetry.Domain.Histories;

/// <summary>A vehicle's readings in their order, one for each identity: the greatest, which stands last.</summary>
internal abstract class ReadingStream : IDisposable
{
    private Reading _current;

    private ReadingStream()
    {
    }

    /// <summary>The present reading. Only after <see cref="Advance"/> was true.</summary>
    public ref readonly Reading Current => ref _current;

    /// <summary>Goes to the next reading; false at the end.</summary>
    public abstract bool Advance();

    /// <inheritdoc/>
    public virtual void Dispose()
    {
    }

    /// <summary>Part of a list that holds each identity once, and stays as it is until this is read.</summary>
    public sealed class Held(List<Reading> readings, int first, int end) : ReadingStream
    {
        private int _next = first;

        /// <inheritdoc/>
        public override bool Advance()
        {
            if (_next >= end) return false;
            _current = readings[_next++];
            return true;
        }
    }

    /// <summary>What an archive gives, in which one identity may stand several times.</summary>
    public sealed class Archived(IEnumerable<Reading> readings) : ReadingStream
    {
        private readonly IEnumerator<Reading> _source = readings.GetEnumerator();
        private bool _any, _begun;

        /// <inheritdoc/>
        public override bool Advance()
        {
            if (!_begun)
            {
                _begun = true;
                _any = _source.MoveNext();
            }

            if (!_any) return false;
            do
            {
                _current = _source.Current;
                _any = _source.MoveNext();
            }
            while (_any && RecentReadings.IsSame(_source.Current, _current));
            return true;
        }

        /// <inheritdoc/>
        public override void Dispose() => _source.Dispose();
    }
}
