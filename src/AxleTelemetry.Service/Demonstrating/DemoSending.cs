using AxleTelemetry.Messages.Topics;
using AxleTelemetry.Simulator.Days;

namespace AxleTelemetry.Service.Demonstrating;

/// <summary>Plays the fleet's days and gives every message to its device when its time has come. Days are played as they are sent, never held.</summary>
/// <param name="pace">When it is time.</param>
/// <param name="connect">Gives, for a vehicle, what sends a message of its device; done once it is acknowledged.</param>
/// <param name="tell">Takes what has come of it so far.</param>
internal sealed class DemoSending(DemoPace pace, Func<string, Func<SentMessage, Task>> connect, Action<DemoProgress> tell)
{
    private const int SecondsOfStep = 3600;

    private readonly Dictionary<string, DeviceLine> _lines = [];
    private long _sent;
    private int _steps;
    private bool _met;

    /// <summary>Where the truth of what has been sent goes; <c>null</c> for nowhere.</summary>
    public Stream? Truth { get; init; }

    /// <summary>Runs until the days end, or until cancelled.</summary>
    public async Task RunAsync(IEnumerable<DayOutput> days, CancellationToken cancel)
    {
        var truth = Truth is null ? null : new TruthWriter(Truth);
        foreach (var happened in days)
        {
            await UntilDue(happened, cancel);
            switch (happened)
            {
                case DayOutput.Sent { Message: var message }: await SendAsync(message, cancel); break;
                case DayOutput.True { Record: var record }: truth?.Write(record); break;
                default: throw new InvalidOperationException("Something happened that nobody sends or writes down.");
            }
        }

        await Task.WhenAll(_lines.Values.Select(line => line.EndAsync()));
    }

    private async Task UntilDue(DayOutput happened, CancellationToken cancel)
    {
        if (!pace.Follows) await StoredAsync(happened, cancel);
        if (!pace.IsDue(happened.At))
        {
            // Who reads the truth beside the page reads it to here.
            Truth?.Flush();
            await pace.UntilDue(happened.At, cancel);
        }

        if (_met || !(happened.At >= pace.Meets)) return;
        _met = true;
        tell(new DemoProgress.Met());
    }

    private async Task StoredAsync(DayOutput happened, CancellationToken cancel)
    {
        if (happened.At >= pace.StoredUntil)
        {
            foreach (var line in _lines.Values) await line.UntilTaken(cancel);
            pace.Follow();
            tell(new DemoProgress.Followed(_sent));
        }
        else if ((int)happened.At.SecondsSince(pace.DayBegins) / SecondsOfStep is var hours && hours > _steps)
        {
            tell(new DemoProgress.Stored(_steps = hours));
        }
    }

    private async Task SendAsync(SentMessage message, CancellationToken cancel)
    {
        var vehicle = Topic.Parse(message.Topic) is TopicResult.Named { Topic: var topic } ? topic.Vehicle : throw new InvalidOperationException($"No device sends to {message.Topic}.");
        if (!_lines.TryGetValue(vehicle, out var line)) _lines[vehicle] = line = new DeviceLine(connect(vehicle));
        await line.AddAsync(message, cancel);
        _sent++;
    }
}

/// <summary>How far the demonstration is.</summary>
internal abstract record DemoProgress
{
    private DemoProgress() { }

    /// <summary>So many hours of what devices had stored are sent.</summary>
    public sealed record Stored(int Hours) : DemoProgress;

    /// <summary>All that devices had stored is taken; the last hour goes by.</summary>
    public sealed record Followed(long Messages) : DemoProgress;

    /// <summary>What is sent is of the present.</summary>
    public sealed record Met : DemoProgress;
}
