using System.Collections.Immutable;

namespace AxleTelemetry.Web.Accounts;

/// <summary>What happened to accounts, for whoever may read it.</summary>
public interface IAccountLog
{
    /// <summary>Newest first.</summary>
    /// <param name="before">Only those with a smaller number; <see cref="long.MaxValue"/> for the newest.</param>
    /// <param name="limit">Most that are given.</param>
    /// <param name="cancel">Ends it.</param>
    Task<ImmutableArray<AccountEvent>> ReadAsync(long before, int limit, CancellationToken cancel);
}

/// <summary>Who read personal data. For any thread.</summary>
public interface IAccessLog
{
    /// <summary>Notes that somebody reads something. The first time in an hour is on the disk before this returns.</summary>
    /// <param name="who">Name of the person or program.</param>
    /// <param name="what">What is read: an address of the interface or of a page.</param>
    /// <param name="subject">Of which vehicle or fleet; empty for all.</param>
    /// <param name="cancel">Ends it.</param>
    Task NoteAsync(string who, string what, string subject, CancellationToken cancel = default);

    /// <summary>Newest first.</summary>
    /// <param name="skip">How many of the newest are left out.</param>
    /// <param name="limit">Most that are given.</param>
    /// <param name="cancel">Ends it.</param>
    Task<ImmutableArray<AccessEntry>> ReadAsync(int skip, int limit, CancellationToken cancel);
}
