using System.Globalization;
using AxleTelemetry.Domain.Findings;

namespace AxleTelemetry.Domain.Telling;

/// <summary>What an alert is about: a finding of the history, or a vehicle that is not heard, which is no finding as it depends on when things became known.</summary>
/// <param name="Finding">The finding; <c>null</c> for a vehicle that is silent longer than its habit.</param>
/// <remarks><c>default</c> is <see cref="VehicleSilent"/>.</remarks>
public readonly record struct AlertSubject(FindingKey? Finding) : IComparable<AlertSubject>
{
    /// <summary>The vehicle is silent longer than its habit.</summary>
    public static AlertSubject VehicleSilent => default;

    /// <inheritdoc/>
    public int CompareTo(AlertSubject other)
    {
        if (Finding is not { } mine) return other.Finding is null ? 0 : -1;
        if (other.Finding is not { } theirs) return 1;
        var order = ((int)mine.Kind).CompareTo((int)theirs.Kind);
        if (order == 0) order = mine.Margin.CompareTo(theirs.Margin);
        return order == 0 ? mine.Element.CompareTo(theirs.Element) : order;
    }

    /// <summary>Short and stable: <c>VehicleSilent</c>, <c>Overload:Axle:0:2</c>, <c>SensorDrifts:1</c>.</summary>
    public override string ToString()
    {
        if (Finding is not { } key) return nameof(VehicleSilent);
        return key.Kind is FindingKind.Overload or FindingKind.CannotTell
            ? string.Create(CultureInfo.InvariantCulture, $"{key.Kind}:{key.Margin.Kind}:{key.Margin.Body}:{key.Margin.Element}")
            : string.Create(CultureInfo.InvariantCulture, $"{key.Kind}:{key.Element}");
    }
}
