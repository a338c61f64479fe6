using System.Text.RegularExpressions;

namespace AxleTelemetry.Service.Tests.People;

/// <summary>What stands on the page of people.</summary>
internal static class People
{
    /// <summary>The number in the name of the last form that does something.</summary>
    public static string Id(string page, string act) => Regex.Matches(page, $"value=\"{act}-([^\"]+)\"").Last().Groups[1].Value;

    /// <summary>The number in the name of the form that does something for somebody.</summary>
    public static string Id(string page, string act, string name) =>
        Regex.Matches(page, $"<tr[^>]*><th scope=\"row\">{Regex.Escape(name)}</th>.*?</tr>", RegexOptions.Singleline).Select(row => Regex.Match(row.Value, $"value=\"{act}-([^\"]+)\"").Groups[1].Value).Last();

    /// <summary>What is shown once.</summary>
    public static string Once(string page) => Regex.Match(page, "<input readonly value=\"([^\"]+)\"").Groups[1].Value;
}
