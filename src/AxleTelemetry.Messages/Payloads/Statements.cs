using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Messages.Payloads;

/// <summary>Which trailers hang on a vehicle from a moment on.</summary>
/// <param name="At">When it held, by the vehicle's clock.</param>
/// <param name="Trailers">Ids in order from the front; empty = solo.</param>
public sealed record CouplingStatement(Moment At, ImmutableArray<string> Trailers);

/// <summary>Whether a device is connected.</summary>
/// <param name="Online">True when it says so itself, false by its last will.</param>
/// <param name="At">When, by its clock; <c>null</c> for a last will: then the receive time counts, for telling only.</param>
public readonly record struct PresenceStatement(bool Online, Moment? At);
