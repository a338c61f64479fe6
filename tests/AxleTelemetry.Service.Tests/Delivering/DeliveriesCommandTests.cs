using System.CommandLine;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Service.Commands;
using AxleTelemetry.Service.Serving;
using AxleTelemetry.Storage.Delivering;

namespace AxleTelemetry.Service.Tests.Delivering;

/// <summary>What was given up is listed with its reason, and sent again, while a service may run.</summary>
public sealed class DeliveriesCommandTests : IDisposable
{
    private readonly Premise _premise = new();

    public DeliveriesCommandTests() => _premise.Configuration(Premise.Hook("http://127.0.0.1:9/"));

    public void Dispose() => _premise.Dispose();

    [Fact]
    public void Before_anything_was_delivered_it_says_so() => Assert.Equal((2, ""), (Run().Code, Run().Output));

    [Fact]
    public void What_was_given_up_is_listed_and_waits_again_once_it_is_sent_again()
    {
        // Held open as by a service that runs.
        using var file = DeliveryFile.Open(_premise.Data);
        var now = TimeProvider.System.Now();
        foreach (var message in (string[])["axle_1", "axle_2"])
            file.InOneStep(book => book.Add(new NewParcel(message, "office", Told.Id, ParcelKind.Change) { IsUrgent = false, At = now, Bytes = Told.Bytes() }));
        Assert.Equal((0, "No message was given up.\n"), (Run().Code, Run().Output));
        file.InOneStep(book => book.GiveUp(book.Due("office", now, 1)[0], now, "It answers 404 Not Found."));
        var listed = Run();
        Assert.Equal(1, listed.Code);
        Assert.Matches($"^1 to office, change, .*, tried 0 times in vain, {Told.Id}\n    It answers 404 Not Found.\n$", listed.Output);
        Assert.Equal((1, "7 is no message that was given up.\n"), Run("--send-again", "7"));
        Assert.Equal((0, "1 is sent again.\n"), Run("--send-again-all", "--recipient", "office"));
        Assert.Equal(["axle_1", "axle_2"], file.InOneStep(book => book.Due("office", TimeProvider.System.Now(), 10)).Select(p => p.Message));
    }

    [Fact]
    public void What_was_for_somebody_who_is_no_recipient_any_more_is_not_sent_again()
    {
        using var file = DeliveryFile.Open(_premise.Data);
        file.InOneStep(book => book.Add(new NewParcel("axle_1", "annex", Told.Id, ParcelKind.Change) { IsUrgent = false, At = new Moment(1), Bytes = Told.Bytes() }));
        file.InOneStep(book => book.GiveUpOthers(["office"], new Moment(2)));
        Assert.Equal((1, "1 is not sent again. It was to go to 'annex', and the settings have no recipient of that name any more.\n"), Run("--send-again", "1"));
        Assert.Equal(1, file.InOneStep(book => book.CountOf("annex", ParcelState.Dead)));
    }

    [Fact]
    public void A_file_of_before_outcomes_were_kept_is_brought_along()
    {
        using (var file = DeliveryFile.Open(_premise.Data)) file.InOneStep(book => book.Add(new NewParcel("axle_1", "office", Told.Id, ParcelKind.Change) { IsUrgent = false, At = new Moment(1), Bytes = Told.Bytes() }));
        using (var connection = new Microsoft.Data.Sqlite.SqliteConnection($"Data Source={Path.Combine(_premise.Data, DeliveryFile.FileName)};Pooling=False"))
        {
            connection.Open();
            using var command = connection.CreateCommand();
            command.CommandText = "DROP TABLE outcome; DROP TABLE hold; DROP TABLE unread; DROP INDEX parcel_alert; ALTER TABLE parcel DROP COLUMN channel; PRAGMA user_version = 1";
            command.ExecuteNonQuery();
        }

        using var again = DeliveryFile.Open(_premise.Data);
        again.InOneStep(book => book.Delivered(book.Due("office", new Moment(1), 1).Single(), new Moment(2)));
        Assert.Equal((1, 0), again.InOneStep(book => (book.TallyOf("office").Delivered, book.Outcomes.Next("north", 1).Length)));
    }

    [Fact]
    public void The_oldest_is_given_up_where_too_many_wait_and_counted()
    {
        using var file = DeliveryFile.Open(_premise.Data);
        var now = new Moment(1);
        file.InOneStep(book =>
        {
            for (var i = 0; i < DeliveryBook.MostWaiting + 2; i++) book.Add(new NewParcel($"m{i}", "office", "a", ParcelKind.Change) { IsUrgent = false, At = now, Bytes = [] });
        });
        Assert.Equal((DeliveryBook.MostWaiting, 2), file.InOneStep(book => (book.CountOf("office", ParcelState.Waiting), book.CountOf("office", ParcelState.Dead))));
        Assert.Equal(["m1", "m0"], file.InOneStep(book => book.In(ParcelState.Dead, null, long.MaxValue, 10)).Select(p => p.Message));
        Assert.Equal(2, file.InOneStep(book => book.TallyOf("office")).Dead);
    }

    [Fact]
    public void Very_much_that_is_given_up_at_once_is_so_in_steps_and_costs_nobody_else_what_came_of_his_messages()
    {
        const int many = OutcomeBook.Most + 300;
        using var file = DeliveryFile.Open(_premise.Data);
        file.InOneStep(book =>
        {
            book.Add(new NewParcel("first", "anna", Told.Id, ParcelKind.Change) { IsUrgent = false, At = new Moment(1), Bytes = [], Channel = "mail" });
            book.Delivered(book.Due("anna", new Moment(1), 1).Single(), new Moment(2));
        });
        using (var connection = new Microsoft.Data.Sqlite.SqliteConnection($"Data Source={Path.Combine(_premise.Data, DeliveryFile.FileName)};Pooling=False"))
        {
            connection.Open();
            using var command = connection.CreateCommand();
            command.CommandText = FormattableString.Invariant($"""
                WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n WHERE i < {many})
                INSERT INTO parcel(message, recipient, alert, kind, state, urgent, queued, since, due, attempts, bytes, channel) SELECT 'm' || i, 'annex', '{Told.Id}', 0, 0, 0, 1, 1, 1, 0, x'', 'mail' FROM n
                """);
            command.ExecuteNonQuery();
        }

        Assert.True(file.InOneStep(book => book.GiveUpSome("annex", new Moment(3))));
        Assert.InRange(file.InOneStep(book => book.CountOf("annex", ParcelState.Dead)), 1, 500);
        var steps = 1;
        while (file.InOneStep(book => book.GiveUpOthers(["anna"], new Moment(4)))) steps++;
        Assert.InRange(steps, many / 500, many);
        Assert.Equal((0, DeliveryBook.MostDead, many), file.InOneStep(book => (book.CountOf("annex", ParcelState.Waiting), book.CountOf("annex", ParcelState.Dead), book.TallyOf("annex").Dead)));
        var outcomes = file.InOneStep(book => book.Outcomes.Next("north", many + 1));
        Assert.Equal(("anna", OutcomeBook.Most, many + 1 - OutcomeBook.Most), (outcomes[0].Recipient, outcomes.Length, file.InOneStep(book => book.Outcomes.Untold)));
    }

    private (int Code, string Output) Run(params string[] further)
    {
        using var output = new StringWriter { NewLine = "\n" };
        using var error = new StringWriter();
        var code = Root.Run(["deliveries", "--settings", _premise.Settings, .. further], new InvocationConfiguration { Output = output, Error = error });
        return (code, output.ToString());
    }
}
