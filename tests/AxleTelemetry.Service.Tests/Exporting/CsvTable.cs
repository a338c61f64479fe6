using System.Text;

namespace AxleTelemetry.Service.Tests.Exporting;

/// <summary>Reads CSV by RFC 4180 alone: commas, CRLF, quotes doubled within quotes, a last line break or none. Fails where a text is none.</summary>
internal static class CsvTable
{
    /// <summary>Records after the header, by the header's names.</summary>
    public static List<Dictionary<string, string>> Read(string text)
    {
        var records = Records(text);
        Assert.All(records, r => Assert.Equal(records[0].Count, r.Count));
        Assert.Equal(records[0].Count, records[0].Distinct().Count());
        return [.. records.Skip(1).Select(r => records[0].Zip(r).ToDictionary(p => p.First, p => p.Second))];
    }

    public static List<List<string>> Records(string text)
    {
        List<List<string>> records = [[]];
        for (var at = 0; at < text.Length;)
        {
            records[^1].Add(text[at] == '"' ? Quoted(text, ref at) : Plain(text, ref at));
            if (at == text.Length) break;
            if (text[at] == ',') at++;
            else
            {
                Assert.Equal("\r\n", text.Substring(at, 2));
                at += 2;
                if (at < text.Length) records.Add([]);
            }
        }

        return records;
    }

    private static string Plain(string text, ref int at)
    {
        var end = text.IndexOfAny([',', '\r', '\n'], at);
        var field = text[at..(end < 0 ? text.Length : end)];
        Assert.DoesNotContain('"', field);
        at += field.Length;
        return field;
    }

    private static string Quoted(string text, ref int at)
    {
        var field = new StringBuilder();
        for (at++; text[at] != '"' || at + 1 < text.Length && text[at + 1] == '"'; at++)
        {
            if (text[at] == '"') at++;
            field.Append(text[at]);
        }

        at++;
        return field.ToString();
    }
}
