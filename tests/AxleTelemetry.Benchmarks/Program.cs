using System.Globalization;
using AxleTelemetry.Benchmarks.Receiving;
using AxleTelemetry.Benchmarks.Storage;

// 'receive [seconds [messages a second]]' loads a real broker; 'commits' and 'snapshots' print a table; 'build directory vehicles days-of-loads
// days-of-episodes' and 'read directory vehicle' make and read a large journal; anything else goes to BenchmarkDotNet.
switch (args)
{
    case ["receive", .. var rest]:
        await ReceiveLoad.RunAsync(rest.Length > 0 ? Number(rest[0]) : 20, rest.Length > 1 ? Number(rest[1]) : 0);
        break;
    case ["send", var port, var rate]:
        await LoadSender.RunAsync(Number(port), Number(rate));
        break;
    case ["commits"]:
        CommitCost.Run();
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
