using System.Globalization;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Telling;

namespace AxleTelemetry.Domain.Tests.Telling;

/// <summary>
/// Every state with every input: what becomes of it, whether it rings, or by which name it is refused. States and their words
/// are those of ISA-18.2 / IEC 62682 (weak copy), but for 'unstated', a rule of this house.
/// </summary>
public sealed class StateTableTests
{
    // The overload begins at minute 0 and is sure. Each row: input, then the outcome for each state in the order of the head.
    // '=' nothing changes; '!' refused; '*' rings.
    private const string Table = """
        input        | Unack        | Ack          | Returned     | Unstated     | Normal       | Shelved(Unack)        | Shelved(Normal)       | ByDesign(Returned)   | ByDesign(Unack)      | Out(Unack)         | Out(Normal)
        opened again | =            | =            | =            | =            | =            | =                     | =                     | =                    | =                    | =                  | =
        rose         | =            | =            | =            | =            | =            | =                     | =                     | =                    | =                    | =                  | =
        fell         | Unack        | Ack          | =            | =            | =            | Shelved(Unack)        | =                     | =                    | ByDesign(Unack)      | Out(Unack)         | =
        closed       | Returned     | Unstated     | =            | =            | =            | Shelved(Returned)     | =                     | =                    | ByDesign(Returned)   | Out(Returned)      | =
        new episode  | Unack*       | Unack*       | Unack        | Ack          | Unack*       | Shelved(Unack)        | Shelved(Unack)        | Unack*               | ByDesign(Unack)      | Out(Unack)         | Out(Unack)
        taken away   | Normal       | Normal       | Normal       | Normal       | Normal       | Normal                | Normal                | Normal               | Normal               | Normal             | Normal
        made longer  | Unack        | Ack          | Unack        | Ack          | Unack        | Shelved(Unack)        | Shelved(Unack)        | Unack*               | ByDesign(Unack)      | Out(Unack)         | Out(Unack)
        acknowledge  | Ack          | !AlreadyAcknowledged | Unstated | !AlreadyAcknowledged | !AlreadyClosed | Shelved(Ack)  | !AlreadyClosed        | Unstated             | Ack                  | Out(Ack)           | !AlreadyClosed
        shelve       | Shelved(Unack) | Shelved(Ack) | Shelved(Returned) | Shelved(Unstated) | !AlreadyClosed | !AlreadyShelved | !AlreadyShelved | !SuppressedByDesign | !SuppressedByDesign | !AlreadyOutOfService | !AlreadyOutOfService
        unshelve     | !NotShelved  | !NotShelved  | !NotShelved  | !NotShelved  | !AlreadyClosed | Unack               | Normal                | !NotShelved          | !NotShelved          | !NotShelved        | !NotShelved
        state done   | Ack          | Ack          | Normal       | Normal       | !AlreadyClosed | Shelved(Ack)        | !AlreadyClosed        | Normal               | Ack                  | Out(Ack)           | !AlreadyClosed
        take out     | Out(Unack)   | Out(Ack)     | Out(Returned) | Out(Unstated) | !AlreadyClosed | Out(Unack)        | Out(Normal)           | Out(Returned)        | Out(Unack)           | !AlreadyOutOfService | !AlreadyOutOfService
        put back     | !NotOutOfService | !NotOutOfService | !NotOutOfService | !NotOutOfService | !AlreadyClosed | !NotOutOfService | !NotOutOfService | !NotOutOfService | !NotOutOfService | Unack | Normal
        reached      | Unack        | Ack          | Returned     | Unstated     | Normal       | Shelved(Unack)        | Shelved(Normal)       | ByDesign(Returned)   | ByDesign(Unack)      | Out(Unack)         | Out(Normal)
        given up     | Unack        | Ack          | Returned     | Unstated     | Normal       | Shelved(Unack)        | Shelved(Normal)       | ByDesign(Returned)   | ByDesign(Unack)      | Out(Unack)         | Out(Normal)
        tick, soon   | =            | =            | =            | =            | =            | =                     | =                     | =                    | =                    | =                  | =
        tick, later  | Unack*       | =            | =            | =            | =            | Unack*                | Normal                | =                    | Unack*               | =                  | =
        """;

    private const double Now = 4;

    public static TheoryData<string, string, string> Pairs()
    {
        var rows = Table.Split('\n').Select(r => r.Split('|', StringSplitOptions.TrimEntries)).ToArray();
        var data = new TheoryData<string, string, string>();
        foreach (var row in rows.Skip(1))
            for (var i = 1; i < rows[0].Length; i++) data.Add(rows[0][i], row[0], row[i]);
        return data;
    }

    [Theory]
    [MemberData(nameof(Pairs))]
    public void Each_state_takes_each_input(string state, string input, string expected)
    {
        var desk = In(state);
        Assert.Equal(state, Short(desk.Only.State));
        var changes = desk.Only.Changes;
        var step = Give(desk, input, state);
        Assert.Equal(expected, Outcome(desk, step));
        Assert.Equal(changes + step.Changes.Count(c => c.Id == desk.Book.Alerts.First().Id), desk.Book.Alerts.First().Changes);
    }

    [Fact]
    public void The_table_has_every_action_and_every_state()
    {
        var heads = Table.Split('\n')[0];
        foreach (var word in new[] { "Unack", "Ack", "Returned", "Unstated", "Normal", "Shelved", "ByDesign", "Out" }) Assert.Contains(word, heads, StringComparison.Ordinal);
        Assert.Equal(8, typeof(AlertState).GetNestedTypes().Count(t => t is { IsAbstract: false }));
        Assert.Equal(6, typeof(OperatorAction).GetNestedTypes().Length);
        Assert.Equal(6, typeof(TellingInput).GetNestedTypes().Length);
    }

    private static Desk In(string state)
    {
        var desk = new Desk();
        if (state.StartsWith("ByDesign", StringComparison.Ordinal))
        {
            desk.Say(Desk.Drive, 0, EpisodeChange.Opened, Level.Surely, 0, known: 60);
            if (state == "ByDesign(Returned)") desk.Say(Desk.Drive, 0, EpisodeChange.Closed, Level.Clear, 2, known: 60);
            return desk;
        }

        desk.Open(0);
        if (state is "Ack" or "Unstated") desk.Do(new OperatorAction.Acknowledge("Ada"), 1);
        if (state.StartsWith("Shelved", StringComparison.Ordinal)) desk.Do(new OperatorAction.Shelve("Ada", "driver called", Desk.Min(15)), 1);
        if (state.StartsWith("Out", StringComparison.Ordinal)) desk.Do(new OperatorAction.TakeOutOfService("Ada", "sensor is changed"), 1);
        if (state is "Returned" or "Unstated") desk.Close(0, 2);
        if (state.EndsWith("(Normal)", StringComparison.Ordinal))
        {
            desk.Do(new OperatorAction.StateDone("Ada", "took off 1 t"), 2);
            desk.Close(0, 2);
        }

        if (state != "Normal") return desk;
        desk.Do(new OperatorAction.StateDone("Ada", "took off 1 t"), 2);
        desk.Close(0, 2);
        return desk;
    }

    private static TellingStep Give(Desk desk, string input, string state)
    {
        var late = state.StartsWith("ByDesign", StringComparison.Ordinal) ? 60 : 0;
        var at = Now + late;
        return input switch
        {
            "opened again" => desk.Say(Desk.Drive, 0, EpisodeChange.Opened, Level.Surely, Now, known: at),
            "rose" => desk.Say(Desk.Drive, 0, EpisodeChange.Rose, Level.Surely, Now, known: at),
            "fell" => desk.Say(Desk.Drive, 0, EpisodeChange.Fell, Level.Likely, Now, known: at),
            "closed" => desk.Say(Desk.Drive, 0, EpisodeChange.Closed, Level.Clear, Now, known: at),
            // The very same thing while it holds can only be another limit; where it ended, it is the same soon after.
            "new episode" => state switch
            {
                "Unack" or "Ack" => desk.Open(Now, Level.Surely, Desk.Rear),
                "ByDesign(Unack)" => desk.Say(Desk.Rear, Now, EpisodeChange.Opened, Level.Surely, Now, known: at),
                "ByDesign(Returned)" => desk.Open(at),
                _ => desk.Open(Now),
            },
            "taken away" => desk.Correct(at, 0),
            "made longer" => desk.Correct(at, 0, Desk.InForce(-1, null)),
            "acknowledge" => desk.Do(new OperatorAction.Acknowledge("Bea"), at),
            "shelve" => desk.Do(new OperatorAction.Shelve("Bea", "on the way to the weighbridge", Desk.Min(at + 30)), at),
            "unshelve" => desk.Do(new OperatorAction.Unshelve("Bea"), at),
            "state done" => desk.Do(new OperatorAction.StateDone("Bea", "lowered axle 3"), at),
            "take out" => desk.Do(new OperatorAction.TakeOutOfService("Bea", "in the workshop"), at),
            "put back" => desk.Do(new OperatorAction.PutBack("Bea"), at),
            "given up" => desk.Take(p => new TellingInput.Contacted(p, Desk.Min(at), desk.Only.Id, new Contact.GivenUp("anna", "mail", Desk.Min(at), "no such mailbox"))),
            "reached" => desk.Take(p => new TellingInput.Contacted(p, Desk.Min(at), desk.Only.Id, new Contact.Reached("desk 1", "screen", Desk.Min(at)))),
            "tick, soon" => desk.Tick(late + 0.4),
            "tick, later" => desk.Tick(at + 20),
            _ => throw new ArgumentOutOfRangeException(nameof(input), input, "Unknown input."),
        };
    }

    private static string Outcome(Desk desk, TellingStep step)
    {
        if (step.Refused is { } refusal) return string.Create(CultureInfo.InvariantCulture, $"!{refusal}");
        return step.Changes.IsEmpty ? "=" : Short(desk.Book.Alerts.Last().State) + (step.Changes.Any(c => c.Rings) ? "*" : "");
    }

    private static string Short(AlertState state) => state switch
    {
        AlertState.Unacknowledged => "Unack",
        AlertState.Acknowledged => "Ack",
        AlertState.ReturnedUnacknowledged => "Returned",
        AlertState.Unstated => "Unstated",
        AlertState.Normal => "Normal",
        AlertState.Shelved shelf => $"Shelved({Short(shelf.State)})",
        AlertState.SuppressedByDesign quiet => $"ByDesign({Short(quiet.State)})",
        AlertState.OutOfService away => $"Out({Short(away.State)})",
        _ => throw new ArgumentOutOfRangeException(nameof(state), state, "Unknown state."),
    };
}
