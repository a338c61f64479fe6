using AxleTelemetry.Domain.Running;
using AxleTelemetry.Messages.VehicleFiles;

namespace AxleTelemetry.Messages.Running;

/// <summary>The file of assumptions as a table. The published schema says the same to editors; a test holds the two together.</summary>
internal static class AssumptionsShape
{
    /// <summary>The whole file.</summary>
    public static Shape File { get; } = new("assumptions",
    [
        Optional("$schema", new Form.Text(0, 400)),
        Optional("currency", new Form.Text(3, 3, IsKey: true)),
        new("values", new Form.Part(new("values", [.. AssumptionTerm.All.Select(Entry)])), Required: true),
    ]);

    private static Property Entry(AssumptionTerm term) => Optional(term.Key, new Form.Part(new(term.Key,
    [
        new("value", new Form.Number(term.Least, term.Most), Required: true),
        Optional("sd", new Form.Number(0, term.MostSd(term.Most))),
        Optional("unit", new Form.Choice([term.Unit])),
        Optional("source", new Form.Text(1, 400)),
        Optional("status", new Form.Choice(Words.Of<AssumedStatus>())),
    ])));

    private static Property Optional(string name, Form form) => new(name, form, Required: false);
}
