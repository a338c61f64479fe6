using AxleTelemetry.Service.Receiving;
using AxleTelemetry.Simulator.Hauling;

namespace AxleTelemetry.Service.Simulating;

/// <summary>What is to be simulated, and what becomes of it.</summary>
/// <param name="Seed">What everything is drawn from.</param>
/// <param name="Plan">What fleet.</param>
/// <param name="Days">How many days.</param>
/// <param name="Into">Where it goes.</param>
internal sealed record SimulationOrder(ulong Seed, FleetPlan Plan, int Days, SimulationTarget Into);

/// <summary>Where a simulation goes.</summary>
internal abstract record SimulationTarget
{
    private SimulationTarget() { }

    /// <summary>Files in a directory.</summary>
    public sealed record Files(string Directory) : SimulationTarget;

    /// <summary>A broker.</summary>
    /// <param name="Host">Its host.</param>
    /// <param name="Port">Its port.</param>
    /// <param name="Pace">How many times faster than time passes.</param>
    /// <param name="Tls">How to encrypt; <c>null</c> for not at all.</param>
    public sealed record Broker(string Host, int Port, double Pace, TlsOptions? Tls = null) : SimulationTarget;
}
