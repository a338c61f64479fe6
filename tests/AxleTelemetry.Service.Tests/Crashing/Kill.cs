using AxleTelemetry.Simulator.Chance;

namespace AxleTelemetry.Service.Tests.Crashing;

/// <summary>When a process of the service is to be killed.</summary>
internal abstract record Kill
{
    private Kill()
    {
    }

    /// <summary>Between receipt and commit of a message.</summary>
    public sealed record Received(int Number) : Kill;

    /// <summary>Between its commit and the acknowledgement.</summary>
    public sealed record Committed(int Number) : Kill;

    /// <summary>Once its trace is so long, wherever it is then; 0 while it starts.</summary>
    public sealed record Anywhere(int Lines) : Kill;

    /// <summary>Where the process is to stand still; <c>null</c> for nowhere.</summary>
    public string? HoldAt => this switch
    {
        Received received => FormattableString.Invariant($"received:{received.Number}"),
        Committed committed => FormattableString.Invariant($"committed:{committed.Number}"),
        Anywhere => null,
        _ => throw new InvalidOperationException("A kill that nobody handles."),
    };

    /// <summary>Twenty in any order, for processes that each get at least so many messages.</summary>
    public static List<Kill> Twenty(SeededRandom random, int messages)
    {
        List<Kill> kills = [];
        for (var i = 0; i < 6; i++) kills.Add(new Received(random.Whole(1, messages)));
        for (var i = 0; i < 6; i++) kills.Add(new Committed(random.Whole(1, messages)));
        for (var i = 0; i < 8; i++) kills.Add(new Anywhere(i < 2 ? 0 : random.Whole(1, 3 * messages)));
        return [.. kills.OrderBy(_ => random.Next())];
    }

    /// <summary>Waits until a process has come that far.</summary>
    public Task Due(ServiceProcess service) => this switch
    {
        Received received => service.Until(t => t.Of("received").Contains(received.Number), ToString()),
        Committed committed => service.Until(t => t.Of("committed").Contains(committed.Number), ToString()),
        Anywhere anywhere => service.Until(t => t.Lines >= anywhere.Lines, ToString()),
        _ => throw new InvalidOperationException("A kill that nobody handles."),
    };
}
