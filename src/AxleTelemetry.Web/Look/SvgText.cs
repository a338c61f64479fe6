using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Rendering;

namespace AxleTelemetry.Web.Look;

/// <summary>Text in a drawing: in a Razor file an element of this name means something else.</summary>
public sealed class SvgText : ComponentBase
{
    [Parameter, EditorRequired] public string Text { get; set; } = "";

    [Parameter(CaptureUnmatchedValues = true)] public IReadOnlyDictionary<string, object>? Attributes { get; set; }

    protected override void BuildRenderTree(RenderTreeBuilder builder)
    {
        builder.OpenElement(0, "text");
        builder.AddMultipleAttributes(1, Attributes);
        builder.AddContent(2, Text);
        builder.CloseElement();
    }
}
