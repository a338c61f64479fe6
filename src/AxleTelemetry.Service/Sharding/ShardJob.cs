using System.Collections.Immutable;
using AxleTelemetry.Domain.Telling;
using AxleTelemetry.Service.Configuring;
using AxleTelemetry.Storage.Rows;

namespace AxleTelemetry.Service.Sharding;

/// <summary>Something that others want of a shard, to be done on its thread between two batches.</summary>
internal abstract record ShardJob
{
    private ShardJob() { }

    /// <summary>A question; it also answers while commits fail.</summary>
    /// <param name="Question">What is asked.</param>
    /// <param name="Refused">Called instead, with the reason, where the shard is not running any more.</param>
    public sealed record Ask(Action<ShardState> Question, Action<string> Refused) : ShardJob;

    /// <summary>A person's action.</summary>
    public sealed record Act(AlertId Alert, OperatorAction Action, TaskCompletionSource<ActionOutcome> Done) : ShardJob;

    /// <summary>Whom alerts reached, or did not; told how many of these alerts are not kept any more.</summary>
    public sealed record Contacts(ImmutableArray<(string Alert, Contact Contact)> All, TaskCompletionSource<int> Done) : ShardJob;

    /// <summary>A stopped lane is to go on.</summary>
    public sealed record Resume(VehicleName Unit, TaskCompletionSource<bool> Done) : ShardJob;

    /// <summary>A cursor has come further, or is about to: only the shard's own thread writes to the journal.</summary>
    /// <param name="Cursor">Its name.</param>
    /// <param name="To">How far it has come; <c>null</c> where it has not moved.</param>
    /// <param name="UpTo">How far may be carried next; <c>null</c> where that stays.</param>
    /// <param name="Done">Told when it is written.</param>
    public sealed record Advance(string Cursor, Position? To, Position? UpTo, TaskCompletionSource Done) : ShardJob;

    /// <summary>Another configuration is to hold.</summary>
    public sealed record Configure(FleetConfiguration Next) : ShardJob;
}
