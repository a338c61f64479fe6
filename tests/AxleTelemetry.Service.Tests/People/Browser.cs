using System.Net;
using System.Text.RegularExpressions;

namespace AxleTelemetry.Service.Tests.People;

/// <summary>What a browser without scripts does: keeps cookies, fills in forms that it was sent.</summary>
internal sealed partial class Browser : IDisposable
{
    private readonly CookieContainer _cookies = new();
    private readonly HttpClient _client;

    public Browser(Uri address)
    {
        _client = new HttpClient(new HttpClientHandler { AllowAutoRedirect = false, CookieContainer = _cookies }) { BaseAddress = address };
        _client.DefaultRequestHeaders.Accept.ParseAdd("text/html");
    }

    public IEnumerable<Cookie> Cookies => _cookies.GetAllCookies();

    public async Task<Answer> GoAsync(string path)
    {
        using var answer = await _client.GetAsync(new Uri(path, UriKind.Relative), TestContext.Current.CancellationToken);
        return await Answer.OfAsync(answer);
    }

    /// <summary>Goes to a page, fills in one of its forms, and sends it to where that page is.</summary>
    public async Task<Answer> SubmitAsync(string path, string form, params (string Name, string Value)[] fields)
    {
        var page = await GoAsync(path);
        var shown = Form().Matches(page.Text).Select(m => m.Value).FirstOrDefault(f => f.Contains($"value=\"{form}\"", StringComparison.Ordinal));
        Assert.True(shown is not null, $"{path} ({page.Status}) has no form {form}: {page.Text}");
        var hidden = Hidden().Matches(shown).Select(m => (m.Groups[1].Value, WebUtility.HtmlDecode(m.Groups[2].Value))).Where(h => fields.All(f => f.Name != h.Item1));
        return await PostAsync(path.Split('?')[0], [.. hidden, .. fields]);
    }

    /// <summary>Goes to a page, and sends its form that goes to another address.</summary>
    public async Task<Answer> SubmitToAsync(string path, string address)
    {
        var page = await GoAsync(path);
        var shown = Form().Matches(page.Text).Select(m => m.Value).Single(f => f.Contains($"action=\"{address}\"", StringComparison.Ordinal));
        return await PostAsync(address, [.. Hidden().Matches(shown).Select(m => (m.Groups[1].Value, WebUtility.HtmlDecode(m.Groups[2].Value)))]);
    }

    public async Task<Answer> PostAsync(string path, params (string Name, string Value)[] fields)
    {
        using var body = new FormUrlEncodedContent(fields.Select(f => KeyValuePair.Create(f.Name, f.Value)));
        using var answer = await _client.PostAsync(new Uri(path, UriKind.Relative), body, TestContext.Current.CancellationToken);
        return await Answer.OfAsync(answer);
    }

    public Task<Answer> SignInAsync(string name, string password) => SubmitAsync("/sign-in", "sign-in", ("name", name), ("password", password));

    public void Dispose() => _client.Dispose();

    [GeneratedRegex("<form.*?</form>", RegexOptions.Singleline)]
    private static partial Regex Form();

    [GeneratedRegex("<input type=\"hidden\" name=\"([^\"]*)\"[^>]*? value=\"([^\"]*)\"")]
    private static partial Regex Hidden();
}

/// <summary>What came back.</summary>
internal sealed record Answer(HttpStatusCode Status, string Location, string Text, IReadOnlyList<string> SetCookies)
{
    public static async Task<Answer> OfAsync(HttpResponseMessage answer) => new(
        answer.StatusCode, answer.Headers.Location?.ToString() ?? "", await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken),
        answer.Headers.TryGetValues("Set-Cookie", out var set) ? [.. set] : []);
}
