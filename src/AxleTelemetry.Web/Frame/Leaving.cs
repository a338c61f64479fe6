using Microsoft.AspNetCore.Components;
using Microsoft.JSInterop;

namespace AxleTelemetry.Web.Frame;

/// <summary>Modules of the browser: their addresses, and how one lets go of them.</summary>
internal static class Leaving
{
    /// <summary>Lets go of a module. The browser may have gone before; then nothing is left to let go of.</summary>
    public static async ValueTask Quietly(IJSObjectReference module)
    {
        try
        {
            await module.DisposeAsync();
        }
        catch (JSDisconnectedException)
        {
            // It has gone.
        }
    }

    /// <summary>Address of a module of ours, for an import.</summary>
    public static string Module(this ResourceAssetCollection assets, string file) => $"./{assets[$"_content/AxleTelemetry.Web/{file}"]}";
}
