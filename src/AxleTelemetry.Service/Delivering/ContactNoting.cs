using System.Collections.Immutable;
using AxleTelemetry.Domain.Telling;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Storage.Delivering;

namespace AxleTelemetry.Service.Delivering;

/// <summary>
/// Enters into the alerts of a shard whom each reached and whom it did not: an input of the journal, so that it stands there for as long as that is kept. It is
/// let go here when it is committed there; what is entered again after a crash changes nothing.
/// </summary>
internal sealed class ContactNoting(ShardDesk desk, DeliveryFile file, TimeProvider clock)
{
    private const int AtOnce = 100;
    private static readonly TimeSpan Look = TimeSpan.FromSeconds(5);

    private readonly Following _following = new(clock);
    private readonly Bell _bell = new(clock);

    /// <summary>Why contacts are not entered at present; <c>null</c> where they are.</summary>
    public string? Trouble => _following.Trouble;

    /// <summary>Something came of a message.</summary>
    public void Wake() => _bell.Ring();

    /// <summary>Enters until it is told to stop.</summary>
    public Task RunAsync(CancellationToken cancel) => _following.RunAsync(StepAsync, cancel);

    private async Task StepAsync(CancellationToken cancel)
    {
        ImmutableArray<Outcome> outcomes = file.InOneStep(book => desk.Fleets.Select(f => book.Outcomes.Next(f, AtOnce)).FirstOrDefault(o => !o.IsEmpty, []));
        if (outcomes.IsEmpty)
        {
            await _bell.RestAsync(Look, cancel);
            return;
        }

        var unknown = await desk.ContactAsync([.. outcomes.Select(o => (o.Alert, Of(o)))], cancel);
        file.InOneStep(book => book.Outcomes.LetGo(outcomes, unknown));
    }

    private static Contact Of(Outcome outcome) => outcome.Why is { } why
        ? new Contact.GivenUp(outcome.Recipient, outcome.Channel, outcome.At, why)
        : new Contact.Reached(outcome.Recipient, outcome.Channel, outcome.At);
}
