using System.Diagnostics;
using System.Globalization;
using AxleTelemetry.Simulator.Hauling;

namespace AxleTelemetry.Service.Demonstrating;

/// <summary>What a demonstration says in the terminal: little.</summary>
internal sealed class DemoTelling(TextWriter output, DemoPace pace)
{
    private readonly Stopwatch _passed = Stopwatch.StartNew();

    /// <summary>What is shown, and where.</summary>
    public void Begin(DemoOrder order, SimulatedFleet fleet, (DemoPlace Place, int Broker) where)
    {
        Say($"This fleet is invented: {fleet.Vehicles.Length} powered vehicles and {fleet.Everything.Length - fleet.Vehicles.Length} trailers of {fleet.Everything.DistinctBy(v => v.Haulier).Count()} hauliers that do not exist, seed {order.Seed}.");
        Say($"Open http://{order.Pages}/now");
        Say($"Vehicles send to 127.0.0.1:{where.Broker} over MQTT{(where.Broker == DemoPlace.UsualPort ? "" : $" ({DemoPlace.UsualPort} is taken)")}; your own can as well: add its file in {where.Place.Directory.FullName}{(where.Place.IsKept ? "" : ", which is deleted at the end")}.");
        Say($"The day began at {Clock(pace.DayBegins)}. Its first 7 h come now, as devices send what they have stored.");
    }

    /// <summary>How far it is.</summary>
    public void Tell(DemoProgress progress)
    {
        switch (progress)
        {
            case DemoProgress.Stored stored:
                Say($"  {stored.Hours} h of 7");
                break;
            case DemoProgress.Followed followed:
                Say($"  7 h of 7: {followed.Messages} messages in {_passed.Elapsed.TotalSeconds:0} s. The last hour goes by {DemoPace.Times} times faster, until {Clock(pace.Meets!.Value)}.");
                break;
            case DemoProgress.Met:
                Say($"It has met the present: from here on as time passes. Ctrl-C ends it.");
                break;
            default:
                throw new InvalidOperationException("Progress that nobody tells.");
        }
    }

    private void Say(FormattableString sentence) => output.WriteLine(sentence.ToString(CultureInfo.InvariantCulture));

    private static string Clock(Domain.Quantities.Moment at) =>
        DateTimeOffset.FromUnixTimeMilliseconds(at.UnixMilliseconds).ToLocalTime().ToString("HH:mm", CultureInfo.InvariantCulture);
}
