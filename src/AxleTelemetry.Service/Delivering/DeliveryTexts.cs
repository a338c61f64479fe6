using System.Globalization;
using System.Resources;
using AxleTelemetry.Domain.Telling;
using AxleTelemetry.Messages.Settings;

namespace AxleTelemetry.Service.Delivering;

/// <summary>What stands around the sentences of alerts, in the language of who reads it. The texts are resources.</summary>
internal sealed class DeliveryTexts
{
    // One set for each language by its own name: with invariant globalization there is no culture to choose a satellite by.
    private static readonly DeliveryTexts English = new(nameof(English)), German = new(nameof(German));

    private readonly ResourceManager _texts;

    private DeliveryTexts(string language) => _texts = new ResourceManager($"{typeof(DeliveryTexts).FullName}{language}", typeof(DeliveryTexts).Assembly);

    /// <summary>To be shown beside loads.</summary>
    public string Caution => this["Caution"];

    /// <summary>A text by its name.</summary>
    /// <exception cref="InvalidOperationException">There is none.</exception>
    public string this[string name] => _texts.GetString(name, CultureInfo.InvariantCulture) ?? throw new InvalidOperationException($"The text '{name}' is missing.");

    /// <summary>The texts of a language.</summary>
    public static DeliveryTexts Of(Language language) => language switch
    {
        Language.En => English,
        Language.De => German,
        _ => throw new ArgumentOutOfRangeException(nameof(language), language, "Unknown language."),
    };

    /// <summary>A text with what belongs into it.</summary>
    public string With(string name, params ReadOnlySpan<object?> parts) => string.Format(CultureInfo.InvariantCulture, this[name], parts);

    /// <summary>A priority, for people.</summary>
    public string Priority(AlertPriority priority) => this[$"Priority{priority}"];

    /// <summary>A state by its code, for people.</summary>
    public string State(string code) => this["State" + string.Concat(code.Split('_').Select(w => char.ToUpperInvariant(w[0]) + w[1..]))];
}
