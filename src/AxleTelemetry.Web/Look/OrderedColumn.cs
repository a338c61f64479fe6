using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.QuickGrid;
using Microsoft.AspNetCore.Components.Rendering;

namespace AxleTelemetry.Web.Look;

/// <summary>
/// A column whose head is a link to the same table ordered by it: so the order stands in the address, goes back with the browser, and is that of the files.
/// The rows come in order; the grid is told of it for those who have the table read to them.
/// </summary>
public sealed class OrderedColumn<TGridItem> : TemplateColumn<TGridItem>
{
    private static readonly GridSort<TGridItem> _asTheyCome = GridSort<TGridItem>.ByAscending(_ => 0);

    private string? _told;

    /// <summary>Its name in the address.</summary>
    [Parameter, EditorRequired] public string Name { get; set; } = "";

    /// <summary>The order of the table, as in an address.</summary>
    [Parameter, EditorRequired] public string Order { get; set; } = "";

    /// <summary>Where the table is ordered by a column.</summary>
    [Parameter, EditorRequired] public Func<string, string> AddressOf { get; set; } = null!;

    private SortDirection? Direction => Order == Name ? SortDirection.Ascending : Order == $"-{Name}" ? SortDirection.Descending : null;

    protected override void OnParametersSet()
    {
        base.OnParametersSet();
        (SortBy, HeaderTemplate) = (_asTheyCome, Head);
        if (_told is null && Direction is { } first) (IsDefaultSortColumn, InitialSortDirection) = (true, first);
    }

    protected override async Task OnAfterRenderAsync(bool firstRender)
    {
        var isNew = _told is not null && _told != Order;
        _told = Order;
        if (isNew && Direction is { } direction) await Grid.SortByColumnAsync(this, direction);
    }

    private RenderFragment Head(ColumnBase<TGridItem> column) => builder =>
    {
        builder.OpenElement(0, "a");
        builder.AddAttribute(1, "href", AddressOf(Name));
        builder.AddAttribute(2, "class", "col-title-text");
        builder.AddContent(3, Title);
        builder.CloseElement();
    };
}
