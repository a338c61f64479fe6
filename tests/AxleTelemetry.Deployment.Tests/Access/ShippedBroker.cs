using System.Globalization;
using AxleTelemetry.Deployment.Tests.Servers;
using AxleTelemetry.Domain.Tests.Scenarios;
using AxleTelemetry.Service.Tests.Crashing;
using AxleTelemetry.Service.Tests.Watching;
using DotNet.Testcontainers.Builders;
using DotNet.Testcontainers.Configurations;
using DotNet.Testcontainers.Containers;

namespace AxleTelemetry.Deployment.Tests.Access;

/// <summary>A broker with the shipped configuration and access list: in a container, or natively where there is no engine.</summary>
internal abstract class ShippedBroker : IAsyncDisposable
{
    protected const int Vehicles = 8883, Programs = 8884;
    private const string Native = "/usr/sbin/mosquitto";

    protected static readonly string Shipped = Path.Combine(Repository.Root, "deploy", "mosquitto");

    public abstract int VehiclesPort { get; }

    public abstract int ProgramsPort { get; }

    /// <summary>Has it read its list of revoked certificates anew.</summary>
    public abstract Task Reload();

    public abstract ValueTask DisposeAsync();

    /// <summary>Starts one; skips where neither an engine nor the program is there.</summary>
    public static async Task<ShippedBroker> Start(Authority authority)
    {
        if (await Engine.IsThere) return await Contained.StartAsync(authority);
        if (!File.Exists(Native)) Assert.Skip("There is neither a Docker engine nor mosquitto.");
        return await OfThisMachine.StartAsync(authority);
    }

    private sealed class Contained(IContainer container) : ShippedBroker
    {
        private const string Data = "/mosquitto/data", Certificates = "/certificates/";

        public override int VehiclesPort => container.GetMappedPublicPort(Vehicles);

        public override int ProgramsPort => container.GetMappedPublicPort(Programs);

        public static async Task<ShippedBroker> StartAsync(Authority authority)
        {
            // The container's user is not ours: here, and nowhere else, the key is for all to read.
            const UnixFileModes mode = UnixFileModes.UserRead | UnixFileModes.GroupRead | UnixFileModes.OtherRead;
            var builder = new ContainerBuilder(Engine.Image("BROKER_IMAGE", "eclipse-mosquitto:2"))
                .WithCommand("mosquitto", "-c", "/mosquitto/config/mosquitto.conf")
                .WithCreateParameterModifier(container => container.User = "10001:10001")
                .WithTmpfsMount(Data)
                .WithPortBinding(Vehicles, assignRandomHostPort: true).WithPortBinding(Programs, assignRandomHostPort: true)
                .WithWaitStrategy(Wait.ForUnixContainer().UntilInternalTcpPortIsAvailable(Vehicles).UntilInternalTcpPortIsAvailable(Programs));
            foreach (var file in Directory.GetFiles(Shipped)) builder = builder.WithResourceMapping(await File.ReadAllBytesAsync(file), "/mosquitto/config/" + Path.GetFileName(file), fileMode: mode);
            foreach (var name in (string[])["ca.pem", "crl.pem", "broker.pem", "broker.key"]) builder = builder.WithResourceMapping(await File.ReadAllBytesAsync(authority.FileOf(name)), Certificates + name, fileMode: mode);
            var container = builder.Build();
            await container.StartAsync(TestContext.Current.CancellationToken);
            return new Contained(container) { Authority = authority };
        }

        private Authority Authority { get; init; } = null!;

        public override async Task Reload()
        {
            await container.CopyAsync(await File.ReadAllBytesAsync(Authority.FileOf("crl.pem")), Certificates + "crl.pem", fileMode: UnixFileModes.UserRead | UnixFileModes.OtherRead, ct: TestContext.Current.CancellationToken);
            await using var signal = RunningProgram.Start("docker", "kill", "--signal", "HUP", container.Id);
            Assert.Equal(0, await signal.Exit());
        }

        public override ValueTask DisposeAsync() => container.DisposeAsync();
    }

    private sealed class OfThisMachine(DirectoryInfo folder, (int Vehicles, int Programs) ports) : ShippedBroker
    {
        private RunningProgram? _program;

        public override int VehiclesPort => ports.Vehicles;

        public override int ProgramsPort => ports.Programs;

        public static async Task<ShippedBroker> StartAsync(Authority authority)
        {
            var broker = new OfThisMachine(Directory.CreateTempSubdirectory("axle-broker-"), (Ports.Free(), Ports.Free()));
            var text = (await File.ReadAllTextAsync(Path.Combine(Shipped, "mosquitto.conf")))
                .Replace("/mosquitto/config", Shipped, StringComparison.Ordinal).Replace("/mosquitto/data", broker.Folder, StringComparison.Ordinal).Replace("/certificates", authority.Folder, StringComparison.Ordinal)
                .Replace(Line(Vehicles), Line(broker.VehiclesPort), StringComparison.Ordinal).Replace(Line(Programs), Line(broker.ProgramsPort), StringComparison.Ordinal);
            var settings = Path.Combine(broker.Folder, "mosquitto.conf");
            // Started by root it would become another user, who may not read what the test made.
            await File.WriteAllTextAsync(settings, text + $"\nuser {Environment.UserName}\n");
            broker._program = RunningProgram.Start("/usr/sbin/mosquitto", "-c", settings);
            await Eventually.Holds(() => Ports.IsOpen(broker.VehiclesPort) && Ports.IsOpen(broker.ProgramsPort), () => string.Join('\n', broker._program.Output.All.Concat(broker._program.Errors.All)));
            return broker;
        }

        private string Folder => folder.FullName;

        public override Task Reload() => _program!.Signal("HUP");

        public override async ValueTask DisposeAsync()
        {
            await _program!.DisposeAsync();
            folder.Delete(recursive: true);
        }

        private static string Line(int port) => string.Create(CultureInfo.InvariantCulture, $"listener {port}");
    }
}
