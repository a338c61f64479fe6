using System.Diagnostics;
using System.IO.Compression;
using AxleTelemetry.Benchmarks.Core;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Lanes;

namespace AxleTelemetry.Benchmarks.Storage;

/// <summary>Whether packing a snapshot pays: a lane's state after an hour of driving, by the codes at hand.</summary>
internal static class SnapshotSize
{
    private const int Rounds = 5_000;

    public static void Run()
    {
        var lane = new Lane(Bench.FiveAxles());
        var outputs = new List<LaneOutput>();
        foreach (var (body, reading) in Bench.Hour(new AxleTelemetry.Simulator.Chance.SeededRandom(7))) lane.Step(body, reading, outputs);
        var writer = new ByteWriter();
        LaneStateCodec.Write(lane.State, writer);
        var plain = writer.Written.ToArray();
        Console.WriteLine($"plain {plain.Length} bytes");
        foreach (var quality in (int[])[0, 1, 2, 4, 5]) Said($"Brotli {quality}", () => Brotli(plain, quality));
        Said("ZLib fastest", () => ZLib(plain));
    }

    private static int Brotli(byte[] plain, int quality)
    {
        Span<byte> room = stackalloc byte[2 * plain.Length];
        return BrotliEncoder.TryCompress(plain, room, out var written, quality, 16) ? written : plain.Length;
    }

    private static int ZLib(byte[] plain)
    {
        using var to = new MemoryStream(plain.Length);
        using (var packer = new ZLibStream(to, CompressionLevel.Fastest, leaveOpen: true)) packer.Write(plain);
        return (int)to.Length;
    }

    private static void Said(string code, Func<int> pack)
    {
        for (var i = 0; i < Rounds; i++) pack();
        var clock = Stopwatch.StartNew();
        for (var i = 0; i < Rounds; i++) pack();
        Console.WriteLine($"{code}: {pack()} bytes, {clock.Elapsed.TotalMicroseconds / Rounds:0.0} us");
    }
}
