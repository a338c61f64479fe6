using System.Collections.Immutable;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Findings;

/// <summary>Something that ends an overload.</summary>
public abstract record Remedy
{
    private Remedy() { }

    /// <summary>Set axles down or lift them; every binding limit then holds.</summary>
    /// <param name="Lower">Axles to lower, counted through the combination.</param>
    /// <param name="Raise">Axles to raise. Only while standing.</param>
    /// <param name="Then">The configuration that will be driven.</param>
    /// <param name="Tightest">The limit that is closest then.</param>
    /// <param name="AutomaticallyUndone">Axles of <paramref name="Raise"/> that the automatic control would set down again.</param>
    public sealed record SetAxles(ImmutableArray<int> Lower, ImmutableArray<int> Raise, Configuration Then, Verdict Tightest, ImmutableArray<int> AutomaticallyUndone) : Remedy;

    /// <summary>Take payload off.</summary>
    /// <param name="Body">Body to take it from.</param>
    /// <param name="From">Where on it.</param>
    /// <param name="Metres">That place along the body.</param>
    /// <param name="Kilograms">Reaches the limit as far as can be told.</param>
    /// <param name="SureKilograms">Makes it 97.5 % sure that every binding limit holds that can be told at all; <c>null</c> where no removal at this place can.</param>
    /// <param name="Then">The configuration that will be driven.</param>
    public sealed record TakeOff(int Body, LoadPlace From, double Metres, double Kilograms, double? SureKilograms, Configuration Then) : Remedy;

    /// <summary>Move payload along the body.</summary>
    /// <param name="Body">Body on which to move it.</param>
    /// <param name="CentreMetres">How far the centre of the whole payload must move, rearward positive.</param>
    /// <param name="Kilograms">A mass that does it.</param>
    /// <param name="Metres">How far that mass must move, rearward positive.</param>
    /// <param name="Then">The configuration that will be driven.</param>
    public sealed record Shift(int Body, double CentreMetres, double Kilograms, double Metres, Configuration Then) : Remedy;
}

/// <summary>Where on the load space payload is taken from.</summary>
public enum LoadPlace
{
    /// <summary>Front end.</summary>
    Front,

    /// <summary>Where the payload's own centre is.</summary>
    Centre,

    /// <summary>Rear end.</summary>
    Rear,
}
