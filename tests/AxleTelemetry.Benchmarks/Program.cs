using System.Globalization;
using AxleTelemetry.Benchmarks.Core;
using AxleTelemetry.Benchmarks.Places;
using AxleTelemetry.Benchmarks.Receiving;
using AxleTelemetry.Benchmarks.Serving;
using AxleTelemetry.Benchmarks.Simulating;
using AxleTelemetry.Benchmarks.Storage;

// 'receive [seconds [messages a second]]' loads a real broker; 'shard [rounds]' feeds a shard; 'core [rounds]' times the core by the least of many short stretches; 'load [seconds]' and 'frames seconds samples-a-second' load the whole service; 'alerts messages-a-second' times alerts under such a load; 'disk', 'memory' and 'replay', each with a number of vehicles, a day of theirs; 'catchup' with influxd or victoria-metrics and a number of vehicles, a day with the database of series away; 'days' with a number of vehicles, what simulating a day of theirs costs; 'places', countries of positions; 'commits', 'cursors' (what carrying history costs a shard) and 'snapshots' print a table; 'build directory vehicles days-of-loads
// days-of-episodes' and 'read directory vehicle' make and read a large journal; anything else goes to BenchmarkDotNet.
switch (args)
{
    case ["receive", .. var rest]:
        await ReceiveLoad.RunAsync(rest.Length > 0 ? Number(rest[0]) : 20, rest.Length > 1 ? Number(rest[1]) : 0);
        break;
    case ["send", var port, var rate]:
        await LoadSender.RunAsync(Number(port), Number(rate));
        break;
    case ["shard", var rounds, var samples, var batch]:
        ShardCost.Run(Number(rounds), Number(samples), Number(batch));
        break;
    case ["shard", .. var rounds]:
        ShardCost.Run(rounds.Length > 0 ? Number(rounds[0]) : 60);
        break;
    case ["load", .. var seconds]:
        await ServiceLoad.RunAsync(seconds.Length > 0 ? Number(seconds[0]) : 60);
        break;
    case ["frames", var seconds, var rate]:
        await ServiceLoad.FramesAsync(Number(seconds), Number(rate));
        break;
    case ["alerts", var rate]:
        await AlertDelay.RunAsync(Number(rate));
        break;
    case ["core", .. var rounds]:
        CoreCost.Run(rounds.Length > 0 ? Number(rounds[0]) : 600);
        break;
    case ["disk", var vehicles]:
        DayCost.Disk(Number(vehicles));
        break;
    case ["memory", var vehicles, var hours]:
        DayCost.Memory(Number(vehicles), Number(hours));
        break;
    case ["memory", var vehicles]:
        DayCost.Memory(Number(vehicles));
        break;
    case ["replay", var vehicles]:
        DayCost.Replay(Number(vehicles));
        break;
    case ["catchup", .. var what]:
        await CatchUp.RunAsync(what.Length > 0 ? what[0] : "influxd", what.Length > 1 ? Number(what[1]) : 24);
        break;
    case ["days", var vehicles]:
        SimulatedDayCost.Run(Number(vehicles));
        break;
    case ["places"]:
        PlaceCost.Run();
        break;
    case ["fleet", .. var traffic]:
        await FleetSender.RunAsync(FleetTraffic.Parse(traffic));
        break;
    case ["commits"]:
        CommitCost.Run();
        break;
    case ["cursors"]:
        CursorCost.Run();
        break;
    case ["snapshots"]:
        SnapshotSize.Run();
        break;
    case ["build", var directory, var vehicles, var loadDays, var episodeDays]:
        ReadCost.Build(directory, Number(vehicles), (Number(loadDays), Number(episodeDays)));
        break;
    case ["read", var directory, var vehicle]:
        ReadCost.Read(directory, Number(vehicle));
        break;
    default:
        BenchmarkDotNet.Running.BenchmarkSwitcher.FromAssembly(typeof(ReceiveLoad).Assembly).Run(args);
        break;
}

static int Number(string text) => int.Parse(text, CultureInfo.InvariantCulture);
