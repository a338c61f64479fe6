using System.Text;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Messages.Payloads;
using AxleTelemetry.Messages.Refusals;
using AxleTelemetry.Messages.Topics;
using static AxleTelemetry.Messages.Tests.Payloads.Decoded;

namespace AxleTelemetry.Messages.Tests.Payloads;

public class RefusedPayloadTests
{
    public static TheoryData<string, RefusalReason> Whole { get; } = new()
    {
        { "", RefusalReason.NotJson },
        { "{", RefusalReason.NotJson },
        { """{"samples":[}""", RefusalReason.NotJson },
        { """{"samples":[{"t":1772432045000,"kpa":{"drive":1}}],}""", RefusalReason.NotJson },
        { """{"samples":[{"t":1772432045000,"kpa":{"drive":1}}]} {}""", RefusalReason.NotJson },
        { """{"samples":[{"t":1772432045000,"kpa":{"drive":1}}]/* why */}""", RefusalReason.NotJson },
        { """{"samples":[{"t":1772432045000,"kpa":{"drive":NaN}}]}""", RefusalReason.NotJson },
        { """{"samples":[{"t":1772432045000,"kpa":{"drive":01}}]}""", RefusalReason.NotJson },
        { """{"samples":[{"t":1772432045000,"kpa":{"drive":"\x"}}]}""", RefusalReason.NotJson },
        { "\uFEFF" + """{"samples":[]}""", RefusalReason.NotJson },
        { "[]", RefusalReason.WrongType },
        { "[{]", RefusalReason.NotJson },
        { "\"samples\"", RefusalReason.WrongType },
        { "null", RefusalReason.WrongType },
        { "{}", RefusalReason.MissingField },
        { """{"samples":{}}""", RefusalReason.WrongType },
        { """{"samples":null}""", RefusalReason.WrongType },
        { """{"vehicle":"T-02","samples":[]}""", RefusalReason.OtherVehicle },
        { """{"samples":[{"t":1772432045000,"kpa":{"drive":1}}],"vehicle":"T-02"}""", RefusalReason.OtherVehicle },
        { """{"samples":[{"vehicle":"T-012","t":1772432045000,"kpa":{"drive":1}}]}""", RefusalReason.OtherVehicle },
        { """{"vehicle":7,"samples":[]}""", RefusalReason.OtherVehicle },
    };

    [Theory]
    [MemberData(nameof(Whole))]
    public void Nothing_of_a_message_counts(string payload, RefusalReason reason)
    {
        var message = From(UpStream.Pressure, payload);
        Assert.Equal(reason, message.OnlyRefusal().Reason);
        Assert.Equal(message.OnlyRefusal(), message.RefusedWhole);
        Assert.Equal(0, message.Readings.Length);
    }

    [Theory]
    [InlineData(UpStream.Pressure, """ "kpa":7 """, RefusalReason.WrongType, "samples[0].kpa")]
    [InlineData(UpStream.Pressure, """ "kpa":[1] """, RefusalReason.WrongType, "samples[0].kpa")]
    [InlineData(UpStream.Pressure, """ "kpa":{"tag":"398"} """, RefusalReason.WrongType, "samples[0].kpa.tag")]
    [InlineData(UpStream.Pressure, """ "kpa":{"tag":null} """, RefusalReason.WrongType, "samples[0].kpa.tag")]
    [InlineData(UpStream.Pressure, """ "kpa":{"tag":{"v":[1]}} """, RefusalReason.WrongType, "samples[0].kpa.tag")]
    [InlineData(UpStream.Pressure, """ "kpa":{"nose":1} """, RefusalReason.UnknownSensor, "samples[0].kpa")]
    [InlineData(UpStream.Pressure, """ "kpa":{"Tag":1} """, RefusalReason.UnknownSensor, "samples[0].kpa")]
    [InlineData(UpStream.Pressure, """ "kpa":{"":1} """, RefusalReason.UnknownSensor, "samples[0].kpa")]
    [InlineData(UpStream.Pressure, """ "kpa":{"\ud800":1} """, RefusalReason.UnknownSensor, "samples[0].kpa")]
    [InlineData(UpStream.Pressure, """ "kpa":{"nose":{"v":[1]}} """, RefusalReason.UnknownSensor, "samples[0].kpa")]
    [InlineData(UpStream.Pressure, """ "kpa":{"tag":1600.001} """, RefusalReason.OutOfRange, "samples[0].kpa.tag")]
    [InlineData(UpStream.Pressure, """ "kpa":{"tag":-5.001} """, RefusalReason.OutOfRange, "samples[0].kpa.tag")]
    [InlineData(UpStream.Pressure, """ "kpa":{"tag":1e308} """, RefusalReason.OutOfRange, "samples[0].kpa.tag")]
    [InlineData(UpStream.Pressure, """ "kpa":{"tag":1e309} """, RefusalReason.NotFinite, "samples[0].kpa.tag")]
    [InlineData(UpStream.Pressure, """ "kpa":{"tag":-1e999999999999} """, RefusalReason.NotFinite, "samples[0].kpa.tag")]
    [InlineData(UpStream.Lift, """ "axles":{"nose":"raised"} """, RefusalReason.UnknownAxle, "samples[0].axles")]
    [InlineData(UpStream.Lift, """ "axles":{"tag":"up"} """, RefusalReason.UnknownWord, "samples[0].axles.tag")]
    [InlineData(UpStream.Lift, """ "axles":{"tag":true} """, RefusalReason.WrongType, "samples[0].axles.tag")]
    [InlineData(UpStream.Lift, """ "axles":"raised" """, RefusalReason.WrongType, "samples[0].axles")]
    [InlineData(UpStream.Condition, """ "ride":"high" """, RefusalReason.UnknownWord, "samples[0].ride")]
    [InlineData(UpStream.Condition, """ "ride":0 """, RefusalReason.WrongType, "samples[0].ride")]
    [InlineData(UpStream.Condition, """ "mode":"winter" """, RefusalReason.UnknownMode, "samples[0].mode")]
    [InlineData(UpStream.Condition, """ "pto":1 """, RefusalReason.WrongType, "samples[0].pto")]
    [InlineData(UpStream.Condition, """ "wheel_speed_mps":60.1 """, RefusalReason.OutOfRange, "samples[0].wheel_speed_mps")]
    [InlineData(UpStream.Condition, """ "fuel_l":-1 """, RefusalReason.OutOfRange, "samples[0].fuel_l")]
    [InlineData(UpStream.Position, """ "speed_mps":-0.1 """, RefusalReason.OutOfRange, "samples[0].speed_mps")]
    [InlineData(UpStream.Position, """ "lat":46 """, RefusalReason.HalfPosition, "samples[0].lat")]
    [InlineData(UpStream.Position, """ "lon":14 """, RefusalReason.HalfPosition, "samples[0].lon")]
    public void A_bad_value_refuses_itself(UpStream stream, string fields, RefusalReason reason, string field)
    {
        var refusal = Sample(stream, fields).OnlyRefusal();
        Assert.Equal((reason, field), (refusal.Reason, refusal.Field));
        Assert.NotEmpty(refusal.Right);

        var beside = """, "kpa":{"drive":1}, "axles":{"drive":"loaded"}, "ignition":true, "heading_deg":9""";
        var message = Sample(UpStream.Frame, fields + beside);
        Assert.Equal(reason, message.OnlyRefusal().Reason);
        Assert.Equal(
            [Pressure(0, 1), Lift(1, LiftReport.Loaded), Condition(ConditionKey.Ignition, 1), Position(PositionKey.Heading, 9)],
            message.Readings.ToArray());
    }

    [Fact]
    public void A_position_whose_latitude_is_wrong_is_refused_as_a_pair()
    {
        var message = Sample(UpStream.Position, """ "lat":90.1,"lon":14,"speed_mps":3 """);
        Assert.Equal([Position(PositionKey.Speed, 3)], message.Readings.ToArray());
        Assert.Equal([RefusalReason.OutOfRange, RefusalReason.HalfPosition], message.Refusals.Details.Select(refusal => refusal.Reason));
    }

    [Theory]
    [InlineData("""{"kpa":{"drive":1}}""", RefusalReason.MissingField)]
    [InlineData("""{"t":"yesterday","kpa":{"drive":1}}""", RefusalReason.BadTime)]
    [InlineData("""{"t":1772432045000.5,"kpa":{"drive":1}}""", RefusalReason.BadTime)]
    [InlineData("""{"t":-1,"kpa":{"drive":1}}""", RefusalReason.BadTime)]
    [InlineData("""{"t":1e999,"kpa":{"drive":1}}""", RefusalReason.BadTime)]
    [InlineData("""{"kpa":{"drive":1},"t":99999999999999999999}""", RefusalReason.BadTime)]
    [InlineData("""{"t":null,"kpa":{"drive":1}}""", RefusalReason.WrongType)]
    [InlineData("""{"t":[1772432045000],"kpa":{"drive":1}}""", RefusalReason.WrongType)]
    [InlineData("""{"t":"2026-03-02T07:16:05.001Z","kpa":{"drive":1}}""", RefusalReason.TimeAhead)]
    [InlineData("""{"t":1772432045000,"kpa":{"drive":1},"t":1772432045001}""", RefusalReason.Contradiction)]
    [InlineData("[]", RefusalReason.WrongType)]
    [InlineData("7", RefusalReason.WrongType)]
    public void A_sample_without_a_right_time_is_refused(string sample, RefusalReason reason)
    {
        var good = """{"t":"2026-03-02T06:14:05Z","kpa":{"tag":2}}""";
        var message = From(UpStream.Pressure, $$"""{"samples":[{{good}},{{sample}},{{good}}]}""");
        Assert.Equal(reason, message.OnlyRefusal().Reason);
        Assert.Equal([Pressure(1, 2), Pressure(1, 2)], message.Readings.ToArray());
    }

    [Fact]
    public void A_time_ahead_by_the_allowed_skew_is_taken() =>
        Assert.Equal(1, From(UpStream.Pressure, """{"samples":[{"t":"2026-03-02T07:16:05.000Z","kpa":{"tag":2}}]}""").Readings.Length);

    [Theory]
    [InlineData("""["TR 07"]""", RefusalReason.BadId)]
    [InlineData("""[""]""", RefusalReason.BadId)]
    [InlineData("""["\ud800"]""", RefusalReason.BadId)]
    [InlineData("[7]", RefusalReason.WrongType)]
    [InlineData("\"TR-07\"", RefusalReason.WrongType)]
    [InlineData("null", RefusalReason.WrongType)]
    [InlineData("""["a","a"]""", RefusalReason.Contradiction)]
    [InlineData("""["a"],"trailers":["b"]""", RefusalReason.Contradiction)]
    [InlineData("""["1","2","3","4","5","6","7","8","9"]""", RefusalReason.OutOfRange)]
    public void A_coupling_is_taken_whole_or_not(string trailers, RefusalReason reason)
    {
        var message = Sample(UpStream.Coupling, $"\"trailers\":{trailers}");
        Assert.Equal(reason, message.OnlyRefusal().Reason);
        Assert.Equal(0, message.Couplings.Length);
    }

    [Theory]
    [InlineData("\"seq\":-1", RefusalReason.OutOfRange)]
    [InlineData("\"seq\":1.5", RefusalReason.OutOfRange)]
    [InlineData("\"seq\":\"1\"", RefusalReason.WrongType)]
    [InlineData("\"seq\":[1]", RefusalReason.WrongType)]
    [InlineData("\"seq\":1,\"seq\":2", RefusalReason.Contradiction)]
    [InlineData("\"boot\":\"\"", RefusalReason.BadId)]
    [InlineData("\"boot\":\"12345678901234567\"", RefusalReason.BadId)]
    [InlineData("\"boot\":\"a b\"", RefusalReason.BadId)]
    [InlineData("\"boot\":5", RefusalReason.WrongType)]
    [InlineData("\"boot\":\"a\",\"boot\":\"b\"", RefusalReason.Contradiction)]
    public void A_wrong_header_costs_itself_only(string header, RefusalReason reason)
    {
        var message = From(UpStream.Pressure, $$"""{ {{header}},"samples":[{"t":1772432045000,"kpa":{"drive":1} }]}""");
        Assert.Equal(reason, message.OnlyRefusal().Reason);
        Assert.Null(message.RefusedWhole);
        Assert.Null(message.Sequence);
        Assert.Null(message.Boot);
        Assert.Equal([Pressure(0, 1)], message.Readings.ToArray());
    }

    [Theory]
    [InlineData("""{"t":1772432045000}""", RefusalReason.MissingField)]
    [InlineData("""{"online":1}""", RefusalReason.WrongType)]
    [InlineData("""{"online":true,"online":false}""", RefusalReason.Contradiction)]
    [InlineData("""{"online":true,"t":"then"}""", RefusalReason.BadTime)]
    [InlineData("""{"online":true,"t":1872432045000}""", RefusalReason.TimeAhead)]
    [InlineData("", RefusalReason.NotJson)]
    public void A_presence_that_is_wrong_states_nothing(string payload, RefusalReason reason)
    {
        var message = From(UpStream.Presence, payload);
        Assert.Equal(reason, message.OnlyRefusal().Reason);
        Assert.Null(message.Presence);
    }

    [Fact]
    public void Of_a_key_given_twice_the_lesser_comes_first_so_that_the_greater_counts()
    {
        var message = Sample(UpStream.Frame, """ "kpa":{"tag":7,"drive":1,"tag":3},"kpa":{"drive":0},"speed_mps":2,"speed_mps":1 """);
        Assert.Equal(0, message.Refusals.Total);
        Assert.Equal(
            [Pressure(0, 0), Pressure(0, 1), Pressure(1, 3), Pressure(1, 7), Position(PositionKey.Speed, 1), Position(PositionKey.Speed, 2)],
            message.Readings.ToArray());
    }

    [Fact]
    public void Two_lists_of_samples_both_count()
    {
        var message = From(UpStream.Pressure, """{"samples":[{"t":1772432045000,"kpa":{"drive":1}}],"samples":[{"t":1772432045000,"kpa":{"tag":2}}]}""");
        Assert.Equal([Pressure(0, 1), Pressure(1, 2)], message.Readings.ToArray());
    }

    [Fact]
    public void Names_count_as_the_characters_their_escapes_stand_for()
    {
        var message = Sample(UpStream.Pressure, """ "k\u0070a":{"dr\u0069ve":1} """);
        Assert.Equal([Pressure(0, 1)], message.Readings.ToArray());
    }

    [Fact]
    public void Minus_zero_is_zero_and_the_least_double_is_a_number()
    {
        var values = Sample(UpStream.Pressure, """ "kpa":{"drive":-0.0,"tag":4.9e-324,"steer":-0e0} """).Readings.ToArray();
        Assert.Equal([0L, 1L, 0L], values.Select(reading => BitConverter.DoubleToInt64Bits(reading.Value)));
    }

    [Fact]
    public void A_message_over_64_KiB_is_refused_unread()
    {
        var padding = new string(' ', ContractLimits.MaxBytes - 14);
        Assert.Equal(0, From(UpStream.Pressure, """{"samples":[]}""" + padding).Refusals.Total);
        Assert.Equal(RefusalReason.TooLong, From(UpStream.Pressure, """{"samples":[]}""" + padding + " ").OnlyRefusal().Reason);
    }

    [Fact]
    public void A_message_over_1000_samples_is_refused()
    {
        var samples = string.Join(',', Enumerable.Repeat("""{"t":1,"kpa":{"tag":1}}""", ContractLimits.MaxSamples + 1));
        var message = From(UpStream.Pressure, $$"""{"samples":[{{samples}}]}""");
        Assert.Equal(RefusalReason.TooManySamples, message.RefusedWhole?.Reason);
        Assert.Equal(0, message.Readings.Length);
    }

    [Fact]
    public void Nesting_is_bounded()
    {
        string Nested(int levels) => $$"""{"x":{{new string('[', levels - 1)}}{{new string(']', levels - 1)}},"samples":[]}""";
        Assert.Equal(0, From(UpStream.Pressure, Nested(ContractLimits.MaxDepth)).Refusals.Total);
        Assert.Equal(RefusalReason.TooDeep, From(UpStream.Pressure, Nested(ContractLimits.MaxDepth + 1)).OnlyRefusal().Reason);
        Assert.Equal(RefusalReason.TooDeep, From(UpStream.Pressure, new string('[', 1000)).OnlyRefusal().Reason);
    }

    [Fact]
    public void Bytes_that_are_no_UTF8_are_refused_even_in_a_field_that_is_ignored()
    {
        byte[] payload = [.. """{"x":" """u8, 0xC3, 0x28, .. """ ","samples":[]}"""u8];
        Assert.Equal(RefusalReason.NotUtf8, From(UpStream.Pressure, payload).OnlyRefusal().Reason);
        byte[] surrogate = [.. """{"x":" """u8, 0xED, 0xA0, 0x80, .. """ ","samples":[]}"""u8];
        Assert.Equal(RefusalReason.NotUtf8, From(UpStream.Pressure, surrogate).OnlyRefusal().Reason);
    }

    [Fact]
    public void Of_very_many_refusals_all_are_counted_and_a_few_kept_in_words()
    {
        var keys = string.Join(',', Enumerable.Range(0, 5000).Select(i => $"\"n{i}\":1"));
        var message = Sample(UpStream.Pressure, $$""" "kpa":{ {{keys}} } """);
        Assert.Equal(5000, message.Refusals.Total);
        Assert.Equal(5000, message.Refusals.Count(RefusalReason.UnknownSensor));
        Assert.Equal(RefusalLog.DetailLimit, message.Refusals.Details.Length);
    }

    [Fact]
    public void A_refusal_says_where_what_and_what_would_be_right() => Assert.Equal(
        "out of range at samples[0].kpa.tag: 2000. Right would be: a number from -5 to 1600 kPa.",
        Sample(UpStream.Pressure, """ "kpa":{"tag":2000} """).OnlyRefusal().ToString());

    [Fact]
    public void An_excerpt_is_short_and_printable()
    {
        Assert.Equal("a?b?c", Excerpt.Of("a\u0007b\u202Ec"));
        Assert.Equal(new string('x', 48) + "...", Excerpt.Of(Encoding.UTF8.GetBytes(new string('x', 5000))));
        Assert.Equal("\uFFFD", Excerpt.Of("\uD800"));
    }
}
