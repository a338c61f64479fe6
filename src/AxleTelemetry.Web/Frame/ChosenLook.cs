namespace AxleTelemetry.Web.Frame;

/// <summary>Light, dark, or as the system has it; kept by the browser.</summary>
internal sealed class ChosenLook(string name, Func<string, Task> keep)
{
    /// <summary><c>auto</c>, <c>light</c>, <c>dark</c>.</summary>
    public string Name { get; private set; } = name;

    /// <summary>Goes on to the next.</summary>
    public Task NextAsync()
    {
        Name = Name switch { "auto" => "light", "light" => "dark", _ => "auto" };
        return keep(Name);
    }
}
