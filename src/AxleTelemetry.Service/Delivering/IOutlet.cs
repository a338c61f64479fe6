using System.Collections.Immutable;
using AxleTelemetry.Storage.Delivering;

namespace AxleTelemetry.Service.Delivering;

/// <summary>A way out: a webhook, mail, a broker.</summary>
internal interface IOutlet : IDisposable
{
    /// <summary>Sends once. Throws nothing for what the other side or the network does.</summary>
    Task<Handing> SendAsync(Outgoing message, CancellationToken cancel);
}

/// <summary>A message on its way.</summary>
/// <param name="Parcel">What it is.</param>
/// <param name="Parts">Of a digest: what it tells, as it came; otherwise empty.</param>
internal sealed record Outgoing(Parcel Parcel, ImmutableArray<Parcel> Parts);

/// <summary>What came of handing a message over.</summary>
internal abstract record Handing
{
    private Handing() { }

    /// <summary>The other side has it.</summary>
    public sealed record Taken : Handing;

    /// <summary>The other side will never take it.</summary>
    /// <param name="Reason">What it says.</param>
    public sealed record Refused(string Reason) : Handing;

    /// <summary>It cannot be told, or it is not there: to be tried again.</summary>
    /// <param name="Reason">Why, for people.</param>
    /// <param name="After">When it asks to be tried again; <c>null</c> where it does not say.</param>
    public sealed record Away(string Reason, TimeSpan? After) : Handing;
}
