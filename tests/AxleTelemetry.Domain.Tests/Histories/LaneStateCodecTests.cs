using System.Collections;
using System.Reflection;
using System.Security.Cryptography;
using System.Text;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Running;
using AxleTelemetry.Simulator.Chance;

namespace AxleTelemetry.Domain.Tests.Histories;

/// <summary>Every number that a lane remembers goes into the bytes and comes back.</summary>
public sealed class LaneStateCodecTests
{
    private const BindingFlags Instance = BindingFlags.Instance | BindingFlags.Public | BindingFlags.NonPublic;

    private static readonly Type[] Parts =
    [
        typeof(LaneState), typeof(PayloadEstimate), typeof(KnownErrors), typeof(SensorState), typeof(AxleReport), typeof(ConditionState),
        typeof(EpisodeState), typeof(MotionState), typeof(WindowState), typeof(LoadState),
        typeof(BodyPayload), typeof(AccountState), typeof(CurveState), typeof(PlaceState), typeof(UnitTally), typeof(AxleTally), typeof(RoadWork),
    ];

    [Fact]
    public void Every_number_of_a_state_comes_back_as_it_was()
    {
        var random = new SeededRandom(11);
        var (state, back) = (NewState(), NewState());
        Fill(state, random);
        var writer = new ByteWriter();
        LaneStateCodec.Write(state, writer);
        var reader = new ByteReader(writer.Written);
        Assert.Null(LaneStateCodec.Read(ref reader, back));
        Assert.True(reader.EndedWell);
        Assert.True(state.SameBits(back));
        Assert.Equal(Numbers(state), Numbers(back));
    }

    [Fact]
    public void No_number_of_a_state_is_left_out_when_it_is_compared_or_copied()
    {
        // A field that SameBits or CopyFrom forgets would be seen here: every one differs.
        var (state, copy) = (NewState(), NewState());
        Fill(state, new SeededRandom(12));
        copy.CopyFrom(state);
        Assert.Equal(Numbers(state), Numbers(copy));
        Assert.True(state.SameBits(copy));
        copy.Provisional.PlaceIsOpen = !copy.Provisional.PlaceIsOpen;
        Assert.False(state.SameBits(copy));
    }

    [Fact]
    public void A_changed_layout_needs_a_new_version()
    {
        // If this fails: raise LaneStateCodec.Version, then write down the new pair.
        var layout = new StringBuilder();
        foreach (var part in Parts)
            foreach (var field in part.GetFields(Instance).OrderBy(f => f.MetadataToken))
                layout.Append(part.Name).Append(' ').Append(field.FieldType).Append(' ').Append(field.Name).Append('\n');
        var hash = Convert.ToHexString(SHA256.HashData(Encoding.UTF8.GetBytes(layout.ToString())))[..16];
        Assert.Equal((5, "76AC125BAAD97635"), (LaneStateCodec.Version, hash));
    }

    [Fact]
    public void Bytes_of_another_version_shape_or_length_are_refused_by_name()
    {
        var state = NewState();
        var writer = new ByteWriter();
        LaneStateCodec.Write(state, writer);
        var bytes = writer.Written.ToArray();
        Assert.Equal(StateRefusal.CutShort, Read(bytes[..^1], state));
        Assert.Equal(StateRefusal.CutShort, Read([], state));
        Assert.Equal(StateRefusal.OtherShape, Read(bytes, new LaneState(Traffic.Setup.Estimator, Traffic.Setup.Catalog.Keys.Length + 1)));
        bytes[0]++;
        Assert.Equal(StateRefusal.OtherVersion, Read(bytes, state));
    }

    private static StateRefusal? Read(byte[] bytes, LaneState into)
    {
        var reader = new ByteReader(bytes);
        return LaneStateCodec.Read(ref reader, into);
    }

    private static LaneState NewState() => new(Traffic.Setup.Estimator, Traffic.Setup.Catalog.Keys.Length);

    private static void Fill(object target, SeededRandom random)
    {
        foreach (var field in target.GetType().GetFields(Instance))
        {
            // Sizes and shapes are not part of what is remembered.
            if (field.IsInitOnly && !field.FieldType.IsArray && field.FieldType.IsPrimitive) continue;
            var value = field.GetValue(target)!;
            if (value is Array array)
                for (var i = 0; i < array.Length; i++) array.SetValue(Drawn(array.GetValue(i)!, random), i);
            else if (field.FieldType.IsClass) Fill(value, random);
            else field.SetValue(target, Drawn(value, random));
        }
    }

    private static object Drawn(object value, SeededRandom random)
    {
        switch (value)
        {
            case double: return random.Normal(1e6);
            case long: return (long)random.Next();
            case int: return (int)random.Next();
            case byte: return (byte)random.Whole(1, 255);
            case bool: return true;
            case Enum: return Enum.ToObject(value.GetType(), random.Whole(1, 3));
            default:
                Fill(value, random); // A boxed structure.
                return value;
        }
    }

    private static List<object> Numbers(object target)
    {
        var numbers = new List<object>();
        foreach (var field in target.GetType().GetFields(Instance))
        {
            var value = field.GetValue(target)!;
            if (value is IEnumerable many)
                foreach (var one in many) Add(one);
            else Add(value);
        }

        return numbers;

        void Add(object value)
        {
            if (value.GetType().IsPrimitive || value is Enum) numbers.Add(value);
            else numbers.AddRange(Numbers(value));
        }
    }
}
