using System.Globalization;
using AxleTelemetry.Benchmarks.Receiving;

// 'receive [seconds [messages a second]]' loads a real broker; anything else goes to BenchmarkDotNet.
switch (args)
{
    case ["receive", .. var rest]:
        await ReceiveLoad.RunAsync(rest.Length > 0 ? Number(rest[0]) : 20, rest.Length > 1 ? Number(rest[1]) : 0);
        break;
    case ["send", var port, var rate]:
        await LoadSender.RunAsync(Number(port), Number(rate));
        break;
    default:
        BenchmarkDotNet.Running.BenchmarkSwitcher.FromAssembly(typeof(ReceiveLoad).Assembly).Run(args);
        break;
}

static int Number(string text) => int.Parse(text, CultureInfo.InvariantCulture);
