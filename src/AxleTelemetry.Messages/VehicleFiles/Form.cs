using System.Collections.Immutable;

namespace AxleTelemetry.Messages.VehicleFiles;

/// <summary>What a value in a file may be.</summary>
internal abstract record Form
{
    private Form() { }

    /// <summary>A number in a closed range, in the unit that the property's name ends with.</summary>
    public sealed record Number(double Low, double High, bool Whole = false) : Form;

    /// <summary>A text; a key is made of A-Z a-z 0-9 . _ - only.</summary>
    public sealed record Text(int Least, int Most, bool IsKey = false) : Form;

    /// <summary>True or false.</summary>
    public sealed record Flag : Form;

    /// <summary>One word of a few.</summary>
    public sealed record Choice(ImmutableArray<string> Words) : Form;

    /// <summary>An object of a known shape.</summary>
    public sealed record Part(Shape Shape) : Form;

    /// <summary>A list.</summary>
    public sealed record List(Form Item, int Least, int Most) : Form;

    /// <summary>An object with a number for each axle named.</summary>
    public sealed record ByAxle(Number Value) : Form;

    /// <summary>An object whose entries carry names of the writer's own, each an id, with a value of one form.</summary>
    public sealed record Named(Form Value, int Least, int Most) : Form;
}

/// <summary>The properties that an object may have.</summary>
internal sealed record Shape(string Name, ImmutableArray<Property> Properties)
{
    /// <summary>The property of a name, or <c>null</c>.</summary>
    public Property? Find(string name)
    {
        foreach (var property in Properties)
            if (property.Name == name)
                return property;
        return null;
    }
}

/// <summary>One property of a shape.</summary>
internal sealed record Property(string Name, Form Form, bool Required);
