using System.Collections.Immutable;
using System.Text.Json;
using Microsoft.AspNetCore.Http;
using Microsoft.EntityFrameworkCore;

namespace AxleTelemetry.Web.Accounts;

/// <summary>Who did what to which account: written with the change itself, read by administrators.</summary>
internal sealed class AccountLog(PeopleContext context, IHttpContextAccessor http, TimeProvider clock) : IAccountLog
{
    private const int LongestText = 200;

    /// <summary>The word of an act, for programs.</summary>
    public static string Word(AccountAct act) => JsonNamingPolicy.SnakeCaseLower.ConvertName(act.ToString());

    /// <summary>Notes something. Never give it a secret, nor what somebody typed where a secret may have been meant.</summary>
    /// <param name="act">What happened.</param>
    /// <param name="subject">To whom or what.</param>
    /// <param name="detail">What it was set to.</param>
    /// <param name="who">Who did it; <c>null</c> for whoever is signed in.</param>
    public Task NoteAsync(AccountAct act, string subject, string detail = "", string? who = null)
    {
        context.Events.Add(new AccountEvent
        {
            At = clock.GetUtcNow().ToUnixTimeMilliseconds(), Who = who ?? http.HttpContext?.User.Identity?.Name ?? "", What = Word(act),
            Subject = Cut(subject), From = http.HttpContext?.Connection.RemoteIpAddress?.ToString() ?? "", Detail = Cut(detail),
        });
        return context.SaveChangesAsync();
    }

    public async Task<ImmutableArray<AccountEvent>> ReadAsync(long before, int limit, CancellationToken cancel) =>
        [.. await context.Events.AsNoTracking().Where(e => e.Id < before).OrderByDescending(e => e.Id).Take(limit).ToListAsync(cancel)];

    private static string Cut(string text) => text.Length <= LongestText ? text : text[..LongestText];
}
