using System.Collections.Immutable;
using System.Text.Json;

namespace AxleTelemetry.Service.Checking;

/// <summary>A file's bytes, and what little tells its kind even when the rest is broken.</summary>
internal sealed class FileText(string name, byte[] bytes, long length)
{
    /// <summary>Largest file that is held in memory; of a larger one only so much is.</summary>
    public const int MostBytes = 8 * 1024 * 1024;

    /// <summary>The file's name, for what reads it line by line.</summary>
    public string Name => name;

    public byte[] Bytes => bytes;

    /// <summary>Bytes of the whole file.</summary>
    public long Length => length;

    /// <summary>Names of the properties of the outermost JSON object, as far as they can be read.</summary>
    public ImmutableArray<string> Names { get; } = NamesOf(bytes);

    /// <summary>The first line that is not empty.</summary>
    public string FirstLine { get; } = FirstLineOf(bytes);

    private static ImmutableArray<string> NamesOf(ReadOnlySpan<byte> text)
    {
        var names = ImmutableArray.CreateBuilder<string>();
        if (text.StartsWith("\uFEFF"u8)) text = text[3..];
        var reader = new Utf8JsonReader(text, new JsonReaderOptions { CommentHandling = JsonCommentHandling.Skip, AllowTrailingCommas = true });
        try
        {
            while (reader.Read())
                if (reader is { CurrentDepth: 1, TokenType: JsonTokenType.PropertyName })
                    names.Add(reader.GetString()!);
        }
        catch (Exception broken) when (broken is JsonException or InvalidOperationException)
        {
            // What was read up to the mistake is enough here; the reader of that kind of file tells the mistake itself.
            return names.ToImmutable();
        }

        return names.ToImmutable();
    }

    private static string FirstLineOf(byte[] text)
    {
        using var reader = new StreamReader(new MemoryStream(text));
        while (reader.ReadLine() is { } line)
            if (!string.IsNullOrWhiteSpace(line))
                return line;
        return "";
    }
}
