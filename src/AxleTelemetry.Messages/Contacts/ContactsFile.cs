using System.Collections.Immutable;
using System.Text.Json;
using AxleTelemetry.Messages.VehicleFiles;

namespace AxleTelemetry.Messages.Contacts;

/// <summary>Whom to phone about a vehicle, as a file that its owner writes: JSON with comments and trailing commas allowed.</summary>
public static class ContactsFile
{
    /// <summary>The JSON Schema (draft 2020-12) of the file, for editors.</summary>
    public static Stream OpenSchema() =>
        typeof(ContactsFile).Assembly.GetManifestResourceStream("contacts.schema.json") ?? throw new InvalidOperationException("The schema is missing from the build.");

    /// <summary>Reads and checks a file. Never throws; every problem comes back at once, each with its place.</summary>
    public static ContactsResult Parse(ReadOnlySpan<byte> text)
    {
        if (JsonSource.Read(text, out var unreadable) is not var (source, document)) return new ContactsResult.Refused([unreadable!]);
        using (document)
        {
            var problems = new Problems(source);
            foreach (var (path, name) in source.Repeated)
                problems.Add(ProblemKind.RepeatedName, JsonPath.Of(path, name), $"'{name}' twice", "A property stands once in its object: remove one of them.");
            new ShapeCheck(problems).Object(document.RootElement, ContactsShape.File, JsonPath.Root);
            if (document.RootElement.ValueKind != JsonValueKind.Object) return new ContactsResult.Refused(problems.InOrder());
            var contacts = Read(new Node(document.RootElement, ContactsShape.File, JsonPath.Root, problems), problems);
            return problems.AnyError ? new ContactsResult.Refused(problems.InOrder()) : new ContactsResult.Accepted(contacts);
        }
    }

    private static ImmutableArray<Contact> Read(Node root, Problems problems)
    {
        var seen = new HashSet<string>(StringComparer.Ordinal);
        var contacts = ImmutableArray.CreateBuilder<Contact>();
        foreach (var node in root.Parts("contacts"))
        {
            foreach (var (id, path) in node.Texts("vehicles"))
                if (!seen.Add(id))
                    problems.Add(ProblemKind.NotUnique, path, $"'{id}'", "A vehicle has one contact: it stands in another already.");
            if (!node.Has("vehicles") && !seen.Add("")) problems.Add(ProblemKind.NotUnique, node.Path, "no 'vehicles'", "One contact may be for all other vehicles; there is one already.");
            if (node.Text("telephone") is { } number && !number.All(c => char.IsAsciiDigit(c) || c is '+' or ' ' or '-' or '(' or ')' or '/' or '.'))
                problems.Add(ProblemKind.BadText, node.PathOf("telephone"), $"'{number}'", "Digits with + ( ) / - . and spaces are right, such as +44 1632 960001.");
            if (node.Text("telephone") is { } telephone && node.Text("whose") is { } whose && node.Text("language") is { } language)
                contacts.Add(new Contact(telephone, whose, language, [.. node.Texts("vehicles").Select(v => v.Text)]));
        }

        return contacts.ToImmutable();
    }
}

/// <summary>Whom to phone.</summary>
/// <param name="Telephone">The number as dialled.</param>
/// <param name="Whose">Who answers: driver, depot, subcontractor.</param>
/// <param name="Language">Which language they speak, as the reader calls it.</param>
/// <param name="Vehicles">Ids of the vehicles it is for; empty: all others of the fleet.</param>
public sealed record Contact(string Telephone, string Whose, string Language, ImmutableArray<string> Vehicles);

/// <summary>What came of reading a file of contacts.</summary>
public abstract record ContactsResult
{
    private ContactsResult() { }

    /// <summary>The contacts, in the order of the text.</summary>
    public sealed record Accepted(ImmutableArray<Contact> Contacts) : ContactsResult;

    /// <summary>They cannot be taken, and every reason why, in the order of the text.</summary>
    public sealed record Refused(ImmutableArray<Problem> Problems) : ContactsResult;
}

/// <summary>The file of contacts as a table. The published schema says the same to editors; a test holds the two together.</summary>
internal static class ContactsShape
{
    private static readonly Shape Contact = new("contact",
    [
        new("telephone", new Form.Text(3, 40), Required: true),
        new("whose", new Form.Text(1, 60), Required: true),
        new("language", new Form.Text(1, 40), Required: true),
        new("vehicles", new Form.List(new Form.Text(1, 64, IsKey: true), 1, 10_000), Required: false),
    ]);

    /// <summary>The whole file.</summary>
    public static Shape File { get; } = new("contacts",
    [
        new("$schema", new Form.Text(0, 400), Required: false),
        new("contacts", new Form.List(new Form.Part(Contact), 0, 10_000), Required: true),
    ]);
}
