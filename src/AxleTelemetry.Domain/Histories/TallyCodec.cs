using System.Collections.Immutable;
using System.Runtime.InteropServices;
using AxleTelemetry.Domain.Running;

namespace AxleTelemetry.Domain.Histories;

/// <summary>Tallies as bytes and back: each is its numbers in order, ahead of them how many. A later version adds numbers at the end, and one that is missing is zero.</summary>
internal static class TallyCodec
{
    public static void Write(in UnitTally tally, ByteWriter to) => Numbers(MemoryMarshal.Cast<UnitTally, double>(new ReadOnlySpan<UnitTally>(in tally)), to);

    public static void Write(in AxleTally tally, ByteWriter to) => Numbers(MemoryMarshal.Cast<AxleTally, double>(new ReadOnlySpan<AxleTally>(in tally)), to);

    public static UnitTally Unit(ref ByteReader from)
    {
        var tally = default(UnitTally);
        Read(ref from, MemoryMarshal.Cast<UnitTally, double>(new Span<UnitTally>(ref tally)));
        return tally;
    }

    public static ImmutableArray<AxleTally> Axles(ref ByteReader from)
    {
        var axles = ImmutableArray.CreateBuilder<AxleTally>();
        for (var count = from.Count(); count > 0; count--)
        {
            var tally = default(AxleTally);
            Read(ref from, MemoryMarshal.Cast<AxleTally, double>(new Span<AxleTally>(ref tally)));
            axles.Add(tally);
        }

        return axles.ToImmutable();
    }

    private static void Numbers(ReadOnlySpan<double> numbers, ByteWriter to)
    {
        to.Int(numbers.Length);
        foreach (var number in numbers) to.Double(number);
    }

    private static void Read(ref ByteReader from, scoped Span<double> into)
    {
        var count = from.Count();
        for (var i = 0; i < count && !from.Failed; i++)
        {
            var number = from.Double();
            if (i < into.Length) into[i] = number;
        }
    }
}
