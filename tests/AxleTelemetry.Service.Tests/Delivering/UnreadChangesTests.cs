using AxleTelemetry.Service.Delivering;
using AxleTelemetry.Service.Metering;
using AxleTelemetry.Service.Tests.Crashing;
using AxleTelemetry.Storage.Delivering;
using AxleTelemetry.Storage.Rows;
using Microsoft.Data.Sqlite;

namespace AxleTelemetry.Service.Tests.Delivering;

/// <summary>A change that cannot be read is said and keeps nobody from being told of those that follow.</summary>
public sealed class UnreadChangesTests : IDisposable
{
    private readonly Premise _premise = new();

    public void Dispose() => _premise.Dispose();

    [Fact]
    public async Task It_is_counted_and_named_once_also_after_a_restart_and_the_others_are_told()
    {
        string broken;
        int all;
        await using (var haul = new RunningHaul(_premise.Data))
        {
            haul.Send();
            await Eventually.Holds(() => haul.Changes.Length >= 2, () => $"{haul.Changes.Length} changes");
            (broken, all) = (haul.Changes[0].Id, haul.Changes.Length);
        }

        Spoil();
        using (var file = DeliveryFile.Open(_premise.Data)) file.InOneStep(book => book.Place("main", Position.Start));
        await using var receiver = await WebhookReceiver.StartAsync();
        for (var run = 0; run < 2; run++)
        {
            await using var haul = new RunningHaul(_premise.Data);
            await using var deliveries = _premise.Open(Premise.Hook(receiver.Url), haul.Clock);
            deliveries.Follow(haul.Desk);
            deliveries.Start();
            await Eventually.Holds(() => receiver.Taken.Length >= all - 1 && deliveries.States().Single().Waiting == 0, () => $"{receiver.Taken.Length} of {all - 1}");
            Assert.Equal((broken, "main"), Assert.Single(deliveries.Unread().Select(u => (u.Alert, u.Shard))));
            Assert.Equal([("main", 1L)], deliveries.UnreadCounts());
            var reason = Assert.Single(DeliveryReasons.Of(deliveries));
            Assert.StartsWith($"1 changes of alerts could not be read in the last 30 days, so that nobody was told of them by delivery: {broken} (journal of main, batch ", reason.Sentence, StringComparison.Ordinal);
            Assert.False(reason.StopsReadiness);
            // Read anew, as after a copy was put back, it is the same one.
            using var again = DeliveryFile.Open(_premise.Data);
            again.InOneStep(book => book.Place("main", Position.Start));
        }
    }

    private void Spoil()
    {
        using var connection = new SqliteConnection($"Data Source={Path.Combine(_premise.Data, "main.db")};Pooling=False");
        connection.Open();
        using var command = connection.CreateCommand();
        command.CommandText = "UPDATE telling SET bytes = x'7b22' WHERE position = (SELECT min(position) FROM telling)";
        Assert.Equal(1, command.ExecuteNonQuery());
    }
}
