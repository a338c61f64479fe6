namespace AxleTelemetry.Domain.RoadWear;

/// <summary>Axles that a road feels as one: neighbours of one body, loaded together, no further apart than 2.44 m (8 ft).</summary>
/// <param name="Axles">Bit per axle of the combination.</param>
/// <param name="Count">How many.</param>
/// <param name="Kilograms">Load of all.</param>
public readonly record struct WearGroup(uint Axles, int Count, double Kilograms)
{
    /// <summary>Wear by the full AASHTO equation, standard axles.</summary>
    public double Aashto(Pavement pavement) => AxleEquivalence.Aashto(Kilograms, Count, pavement);
}
