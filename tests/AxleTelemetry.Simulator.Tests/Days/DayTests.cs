using System.Security.Cryptography;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Messages.Topics;
using AxleTelemetry.Simulator.Days;
using AxleTelemetry.Simulator.Hauling;
using AxleTelemetry.Simulator.Tests.Routes;

namespace AxleTelemetry.Simulator.Tests.Days;

public sealed class DayTests
{
    public static TheoryData<bool> Both => [false, true];

    [Fact]
    public void The_same_seed_gives_the_same_bytes_and_another_does_not()
    {
        var plan = Played.Faulty.Plan with { Units = FleetPlan.Each(1) };
        Assert.Equal(Digest(SimulatedFleet.Draw(7, plan)), Digest(SimulatedFleet.Draw(7, plan)));
        Assert.NotEqual(Digest(SimulatedFleet.Draw(7, plan)), Digest(SimulatedFleet.Draw(8, plan)));
    }

    [Fact]
    public void A_day_alone_is_the_same_as_among_others()
    {
        foreach (var (vehicle, outputs) in Played.Days(Played.Faulty).Take(4))
        {
            var alone = vehicle.Messages(1, 1).Select(m => Convert.ToHexString(m.Payload.Span)).ToList();
            Assert.Equal(alone, Played.Messages(outputs).TakeLast(alone.Count).Select(m => Convert.ToHexString(m.Payload.Span)));
        }
    }

    [Theory]
    [MemberData(nameof(Both))]
    public void Every_message_is_good_and_is_sent_after_the_one_before(bool faulty)
    {
        var fleet = faulty ? Played.Faulty : Played.Plain;
        foreach (var (_, outputs) in Played.Days(fleet))
        {
            var messages = Played.Messages(outputs).ToList();
            Assert.Equal(messages.Select(m => m.SentAt).Order(), messages.Select(m => m.SentAt));
            Assert.True(Played.Decoded(fleet, messages).Sum(d => d.Message.Readings.Length) > 5000);
        }
    }

    [Fact]
    public void A_fleet_plays_what_its_vehicles_play_in_the_order_of_time()
    {
        var plan = Played.Faulty.Plan with { Units = FleetPlan.Each(1) };
        var fleet = SimulatedFleet.Draw(9, plan);
        var together = fleet.Play(0, 2).ToList();
        Assert.Equal(together.Select(o => o.At).Order(), together.Select(o => o.At));
        Assert.Equal(fleet.Vehicles.Sum(v => v.Play(0, 2).Count()), together.Count);
    }

    [Theory]
    [MemberData(nameof(Both))]
    public void No_moment_comes_again_with_another_value(bool faulty)
    {
        var fleet = faulty ? Played.Faulty : Played.Plain;
        var known = new Dictionary<(string, UpStream, Moment, ReadingKind, ushort), double>();
        foreach (var (topic, message) in Played.Decoded(fleet, Played.Days(fleet).SelectMany(d => Played.Messages(d.Outputs))))
            foreach (var reading in message.Readings)
                if (!known.TryAdd((topic.Vehicle, topic.Stream, reading.At, reading.Kind, reading.Key), reading.Value))
                    Assert.Equal(known[(topic.Vehicle, topic.Stream, reading.At, reading.Kind, reading.Key)], reading.Value);
    }

    [Fact]
    public void Where_it_is_follows_from_how_fast_it_goes()
    {
        foreach (var (_, outputs) in Played.Days(Played.Plain))
        {
            var rolling = Played.Truth<TruthRecord.Now>(outputs).ToList();
            double way = 0, driven = 0;
            foreach (var (a, b) in rolling.Zip(rolling.Skip(1)).Where(p => p.First.Speed > 0 && p.Second.Speed > 0 && p.Second.At.SecondsSince(p.First.At) <= 10))
            {
                var metres = Earth.Metres((a.Latitude, a.Longitude), (b.Latitude, b.Longitude));
                var seconds = b.At.SecondsSince(a.At);
                Assert.InRange(metres, Math.Min(a.Speed, b.Speed) * seconds - 60, Math.Max(a.Speed, b.Speed) * seconds + 60);
                way += metres;
                driven += seconds * (a.Speed + b.Speed) / 2;
            }

            Assert.True(way > 20_000, $"{way} m");
            Assert.InRange(way / driven, 0.98, 1.02);
        }
    }

    [Fact]
    public void It_goes_out_and_comes_home()
    {
        foreach (var (_, outputs) in Played.Days(Played.Plain))
            foreach (var day in Played.Truth<TruthRecord.Now>(outputs).GroupBy(t => t.At.UnixMilliseconds / 86_400_000))
            {
                var (first, last) = (day.First(), day.Last());
                Assert.InRange(Earth.Metres((first.Latitude, first.Longitude), (last.Latitude, last.Longitude)), 0, 50);
                Assert.True(last.At.SecondsSince(first.At) is > 3600 and < 17.5 * 3600, $"{first.At} to {last.At}");
            }
    }

    [Fact]
    public void Aboard_a_ship_the_place_changes_and_the_wheels_stand()
    {
        var plan = Played.Plain.Plan with { Units = FleetPlan.Each(3) };
        var fleet = SimulatedFleet.Draw(3, plan);
        var carried = fleet.Vehicles.Where(v => v.Route.Name == "across-the-belt").SelectMany(v => v.Truth(0, 1)).OfType<TruthRecord.Now>()
            .Where(t => t.Speed > 5 && !t.Rolling).ToList();
        Assert.True(carried.Count > 100);
        Assert.All(carried, t => Assert.InRange(t.Latitude, 54.49, 54.67));
    }

    private static string Digest(SimulatedFleet fleet)
    {
        using var sha = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        using var truth = new MemoryStream();
        var writer = new TruthWriter(truth);
        foreach (var output in fleet.Vehicles.SelectMany(v => v.Play(0, 1)))
        {
            if (output is DayOutput.True { Record: var record }) writer.Write(record);
            if (output is not DayOutput.Sent { Message: var message }) continue;
            sha.AppendData(System.Text.Encoding.UTF8.GetBytes($"{message.SentAt} {message.Topic} "));
            sha.AppendData(message.Payload.Span);
        }

        sha.AppendData(truth.ToArray());
        return Convert.ToHexString(sha.GetHashAndReset());
    }
}
