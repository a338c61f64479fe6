using System.Buffers;
using System.Text.Json;
using System.Text.Unicode;

namespace AxleTelemetry.Messages.VehicleFiles;

/// <summary>
/// The text of a file as JSON, with the place of every value in it. Comments and trailing commas are let through: people
/// write these files by hand.
/// </summary>
internal sealed class JsonSource
{
    /// <summary>Largest file that is read, bytes. A description of one vehicle has a few thousand.</summary>
    public const int MostBytes = 256 * 1024;

    private const int MostDepth = 16;
    private readonly byte[] _text;
    private readonly Dictionary<string, long> _offsets = [];
    private readonly List<(string Path, string Name)> _repeated = [];

    private JsonSource(byte[] text) => _text = text;

    /// <summary>Properties that stand twice in one object, by path and name.</summary>
    public IReadOnlyList<(string Path, string Name)> Repeated => _repeated;

    /// <summary>Reads a text. What is wrong with it as JSON goes to <paramref name="problem"/>, and the result is <c>null</c>.</summary>
    public static (JsonSource Source, JsonDocument Document)? Read(ReadOnlySpan<byte> text, out Problem? problem)
    {
        problem = null;
        if (text.Length > MostBytes)
        {
            problem = Whole(ProblemKind.TooLarge, $"{text.Length} bytes", $"A file of this kind has at most {MostBytes} bytes.", default);
            return null;
        }

        if (text.StartsWith("\uFEFF"u8)) text = text[3..];
        if (!Utf8.IsValid(text))
        {
            problem = Whole(ProblemKind.NotText, "bytes that are no UTF-8", "Save the file as UTF-8 text.", default);
            return null;
        }

        var source = new JsonSource(text.ToArray());
        try
        {
            source.Locate();
            var document = JsonDocument.Parse(source._text, new JsonDocumentOptions
            {
                CommentHandling = JsonCommentHandling.Skip,
                AllowTrailingCommas = true,
                MaxDepth = MostDepth,
            });
            return (source, document);
        }
        catch (JsonException e)
        {
            var place = new TextPlace((int)(e.LineNumber ?? 0) + 1, (int)(e.BytePositionInLine ?? 0) + 1);
            problem = Whole(ProblemKind.NotJson, $"a mistake at line {place.Line}, column {place.Column}",
                $"The file has to be JSON. {FirstSentence(e.Message)}", place);
            return null;
        }
    }

    /// <summary>Line and column of the value at a path; of the object around it where the value is missing.</summary>
    public TextPlace PlaceOf(string path)
    {
        long offset;
        while (!_offsets.TryGetValue(path, out offset))
        {
            var cut = path.LastIndexOfAny(['.', '[']);
            if (cut <= 0) return default;
            path = path[..cut];
        }

        var before = _text.AsSpan(0, (int)offset);
        return new TextPlace(before.Count((byte)'\n') + 1, (int)offset - before.LastIndexOf((byte)'\n'));
    }

    private static Problem Whole(ProblemKind kind, string found, string right, TextPlace place) => new(kind, JsonPath.Root, found, right, place);

    private static string FirstSentence(string message)
    {
        var end = message.IndexOf(". ", StringComparison.Ordinal);
        return end < 0 ? message : message[..(end + 1)];
    }

    private void Locate()
    {
        var reader = new Utf8JsonReader(_text, new JsonReaderOptions
        {
            CommentHandling = JsonCommentHandling.Skip,
            AllowTrailingCommas = true,
            MaxDepth = MostDepth,
        });
        reader.Read();
        LocateValue(ref reader, JsonPath.Root);
    }

    private void LocateValue(ref Utf8JsonReader reader, string path)
    {
        _offsets.TryAdd(path, reader.TokenStartIndex);
        if (reader.TokenType == JsonTokenType.StartArray)
        {
            for (var i = 0; reader.Read() && reader.TokenType != JsonTokenType.EndArray; i++)
                LocateValue(ref reader, JsonPath.Of(path, i));
        }
        else if (reader.TokenType == JsonTokenType.StartObject)
        {
            var names = new HashSet<string>();
            while (reader.Read() && reader.TokenType != JsonTokenType.EndObject)
            {
                var name = TextOf(ref reader);
                if (!names.Add(name)) _repeated.Add((path, name));
                reader.Read();
                LocateValue(ref reader, JsonPath.Of(path, name));
            }
        }
        else if (reader.TokenType == JsonTokenType.String)
        {
            TextOf(ref reader);
        }
    }

    private static string TextOf(ref Utf8JsonReader reader)
    {
        try
        {
            return reader.GetString() ?? "";
        }
        catch (InvalidOperationException)
        {
            // Half of a surrogate pair, escaped: valid as JSON grammar, but no text.
            throw new JsonException("An escaped character is incomplete.");
        }
    }
}
