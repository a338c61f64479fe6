using AxleTelemetry.Domain.Running;
using AxleTelemetry.Messages.VehicleFiles;

namespace AxleTelemetry.Messages.Running;

/// <summary>From a file whose properties were looked at one by one to assumptions, over a basis; without a basis every value is needed.</summary>
internal sealed class AssumptionsReading(Problems problems, Assumptions? basis)
{
    private const string OwnersFile = "owner's file";

    public Problems Problems => problems;

    /// <summary><c>null</c> where anything is wrong.</summary>
    public Assumptions? Read(Node root)
    {
        var currency = Currency(root);
        var values = root.Part("values");
        var read = new Dictionary<Assumption, Assumed>();
        foreach (var term in AssumptionTerm.All)
            if (Value(term, values) is { } assumed)
                read[term.Assumption] = assumed;
        return problems.AnyError || currency is null ? null : Assumptions.From(currency, read);
    }

    private string? Currency(Node root)
    {
        var code = root.Text("currency") ?? (root.Has("currency") ? null : basis?.Currency);
        if (code is not null && code.All(char.IsAsciiLetterUpper)) return code;
        if (!problems.IsFaulty(root.PathOf("currency")))
            problems.Add(ProblemKind.BadText, root.PathOf("currency"), code is null ? "" : $"'{code}'", "Three capital letters of ISO 4217 are right, such as EUR.");
        return null;
    }

    private Assumed? Value(AssumptionTerm term, Node? values)
    {
        var before = basis?[term.Assumption];
        if (values is null || !values.Has(term.Key)) return before ?? Missing(term, values);
        if (values.Part(term.Key) is not { } entry || entry.Number("value") is not { } value) return null;
        var sd = entry.Number("sd") ?? before?.Sd ?? 0;
        if (term.Wrong(value, sd) is { } right)
            problems.Add(ProblemKind.OutOfRange, entry.PathOf(entry.Has("sd") ? "sd" : "value"), sd, $"Right is {right}; without 'sd' that of the shipped file holds.");
        return new Assumed(value, sd, term.Unit, entry.Text("source") ?? OwnersFile, entry.Word<AssumedStatus>("status") ?? AssumedStatus.Owners);
    }

    private Assumed? Missing(AssumptionTerm term, Node? values)
    {
        if (values is not null) problems.Add(ProblemKind.Missing, values.PathOf(term.Key), "", $"'{term.Key}' is needed here.");
        return null;
    }
}
