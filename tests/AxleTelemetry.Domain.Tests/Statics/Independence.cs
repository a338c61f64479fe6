using System.Reflection.Metadata;
using System.Reflection.PortableExecutable;
using AxleTelemetry.Simulator.Statics;

namespace AxleTelemetry.Domain.Tests.Statics;

/// <summary>A check by the same code is no check.</summary>
public sealed class Independence
{
    [Fact]
    public void The_simulator_refers_to_nothing_of_the_products_own_statics()
    {
        using var file = new PEReader(File.OpenRead(typeof(DenseStatics).Assembly.Location));
        var metadata = file.GetMetadataReader();
        var namespaces = metadata.TypeReferences
            .Select(metadata.GetTypeReference)
            .Select(type => metadata.GetString(type.Namespace))
            .ToHashSet();

        Assert.Contains("AxleTelemetry.Domain.Vehicles", namespaces);
        Assert.DoesNotContain("AxleTelemetry.Domain.Loads", namespaces);
    }
}
