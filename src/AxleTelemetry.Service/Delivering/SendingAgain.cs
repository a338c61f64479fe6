using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Storage.Delivering;

namespace AxleTelemetry.Service.Delivering;

/// <summary>What came of wanting a message sent again.</summary>
internal abstract record SendingAgain
{
    private SendingAgain() { }

    /// <summary>It waits again.</summary>
    public sealed record Waits : SendingAgain;

    /// <summary>No message of that number was given up.</summary>
    public sealed record NotGivenUp : SendingAgain;

    /// <summary>Nobody has the name any more that it was to go to.</summary>
    /// <param name="Recipient">That name.</param>
    public sealed record NobodyThere(string Recipient) : SendingAgain
    {
        /// <summary>For people.</summary>
        public string Text => $"It was to go to '{Recipient}', and the settings have no recipient of that name any more.";
    }

    /// <summary>Has a message wait again where it was given up and there is somebody for it.</summary>
    /// <param name="book">Where it stands.</param>
    /// <param name="number">Its number.</param>
    /// <param name="isThere">Whether somebody has a name.</param>
    /// <param name="at">When.</param>
    public static SendingAgain Try(DeliveryBook book, long number, Func<string, bool> isThere, Moment at)
    {
        if (book.DeadTo(number) is not { } recipient) return new NotGivenUp();
        if (!isThere(recipient)) return new NobodyThere(recipient);
        book.SendAgain(number, at);
        return new Waits();
    }
}
