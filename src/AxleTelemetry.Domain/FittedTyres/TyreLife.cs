using System.Collections.Immutable;

namespace AxleTelemetry.Domain.FittedTyres;

/// <summary>What a tyre went through, on whatever axles it was.</summary>
/// <param name="Tyre">Which.</param>
/// <param name="Whole">Since it was first fitted.</param>
/// <param name="SinceRetread">On its present tread.</param>
/// <param name="Retreads">How often it was retreaded.</param>
/// <param name="RetreadedOn">When last; <c>null</c> where never.</param>
public sealed record TyreLife(string Tyre, TyreExposure Whole, TyreExposure SinceRetread, int Retreads, DateOnly? RetreadedOn);

/// <summary>All tyres of a fleet, and what could be given to none.</summary>
/// <param name="Tyres">By id.</param>
/// <param name="Unclaimed">Days of axles that nobody recorded any tyre on, in the order given.</param>
public sealed record TyreAccount(ImmutableArray<TyreLife> Tyres, ImmutableArray<AxleDay> Unclaimed);
