using System.Collections.Immutable;

namespace AxleTelemetry.Web.Look;

/// <summary>By which column a table stands: in an address <c>peak</c>, or <c>-peak</c> with the greatest first.</summary>
internal sealed record ChosenOrder(string Column, bool IsDescending)
{
    public override string ToString() => IsDescending ? $"-{Column}" : Column;
}

/// <summary>A column that a table can be ordered by.</summary>
/// <param name="Name">In the address.</param>
/// <param name="Of">What is compared; what has none stands last, either way.</param>
/// <param name="IsGreatestFirst">What one looks for first in it is the greatest.</param>
internal sealed record OrderColumn<TRow>(string Name, Func<TRow, IComparable?> Of, bool IsGreatestFirst = false);

/// <summary>How rows can be ordered, on the screen, in a file and on a sheet alike. The first column is the usual one.</summary>
internal sealed class TableOrder<TRow>(ImmutableArray<OrderColumn<TRow>> columns)
{
    private static readonly Comparer<IComparable?> _values = Comparer<IComparable?>.Create((a, b) =>
        a is string text ? string.Compare(text, b as string, StringComparison.OrdinalIgnoreCase) : a is null ? b is null ? 0 : -1 : a.CompareTo(b));

    public ChosenOrder Usual { get; } = First(columns[0]);

    /// <summary>What may stand in an address, in a sentence.</summary>
    public string Right => $"one of {string.Join(", ", columns.Select(c => c.Name))}, with '-' before it for the greatest first";

    /// <summary>The order that an address names, the usual one where it names none; <c>null</c> for one that there is not.</summary>
    public ChosenOrder? Read(string? text)
    {
        if (text is not { Length: > 0 }) return Usual;
        var order = new ChosenOrder(text.TrimStart('-'), text.StartsWith('-'));
        return order.ToString() == text && columns.Any(c => c.Name == order.Column) ? order : null;
    }

    /// <summary>What a press on the head of a column asks for: the other way round where it is ordered by already.</summary>
    public ChosenOrder Next(ChosenOrder now, string column) => now.Column == column ? now with { IsDescending = !now.IsDescending } : First(columns.First(c => c.Name == column));

    /// <summary>What stands in the address; <c>null</c> for the usual order.</summary>
    public string? Address(ChosenOrder order) => order == Usual ? null : order.ToString();

    /// <summary>Rows in an order; those that are alike stay as they stood.</summary>
    public TRow[] Of(IEnumerable<TRow> rows, ChosenOrder order)
    {
        var of = columns.First(c => c.Name == order.Column).Of;
        var known = rows.OrderBy(r => of(r) is null);
        return [.. order.IsDescending ? known.ThenByDescending(of, _values) : known.ThenBy(of, _values)];
    }

    private static ChosenOrder First(OrderColumn<TRow> column) => new(column.Name, column.IsGreatestFirst);
}
