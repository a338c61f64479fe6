using System.Collections.Immutable;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Service.Fleet;

/// <summary>A change of what hangs on a powered vehicle, waiting for its moment.</summary>
internal abstract record CouplingChange
{
    private CouplingChange() { }

    /// <summary>The vehicle itself said it.</summary>
    public sealed record Stated(long At, Combination Combination, ImmutableArray<Trailer> Trailers) : CouplingChange, IComparable<Stated>
    {
        /// <summary>The trailers' ids in order, to tell one statement from another.</summary>
        public string Text { get; } = string.Join(',', Trailers.Select(t => t.Name.Id));

        /// <summary>The later counts; of two for one moment the greater, so that the order they come in does not.</summary>
        public int CompareTo(Stated? other)
        {
            if (other is null) return 1;
            var order = At.CompareTo(other.At);
            return order == 0 ? string.CompareOrdinal(Text, other.Text) : order;
        }
    }

    /// <summary>Another vehicle claimed a trailer: whatever hangs here from that trailer on is gone.</summary>
    public sealed record Lost(Trailer Trailer) : CouplingChange;
}
