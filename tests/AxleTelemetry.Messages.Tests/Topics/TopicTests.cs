using AxleTelemetry.Messages.Refusals;
using AxleTelemetry.Messages.Topics;

namespace AxleTelemetry.Messages.Tests.Topics;

public class TopicTests
{
    [Theory]
    [InlineData("axles/v1/north/T-01/pressure", "north", "T-01", UpStream.Pressure)]
    [InlineData("axles/v1/a/b/presence", "a", "b", UpStream.Presence)]
    [InlineData("axles/v1/f.1_2/v-3.A/frame", "f.1_2", "v-3.A", UpStream.Frame)]
    public void A_topic_of_ours_names_its_parts(string text, string fleet, string vehicle, UpStream stream)
    {
        var topic = Assert.IsType<TopicResult.Named>(Topic.Parse(text)).Topic;
        Assert.Equal(new Topic(fleet, vehicle, stream), topic);
        Assert.Equal(text, topic.ToString());
    }

    [Theory]
    [InlineData("", RefusalReason.BadTopic)]
    [InlineData("axles/v1", RefusalReason.BadTopic)]
    [InlineData("axles/v2/f/v/pressure", RefusalReason.BadTopic)]
    [InlineData("Axles/v1/f/v/pressure", RefusalReason.BadTopic)]
    [InlineData("axles/v1/f/pressure", RefusalReason.BadTopic)]
    [InlineData("axles/v1/f/v/pressure/x", RefusalReason.BadTopic)]
    [InlineData("axles/v1/f/v/x/y/pressure", RefusalReason.BadTopic)]
    [InlineData("axles/v1//v/pressure", RefusalReason.BadId)]
    [InlineData("axles/v1/f//pressure", RefusalReason.BadId)]
    [InlineData("axles/v1/f/v 1/pressure", RefusalReason.BadId)]
    [InlineData("axles/v1/f/+/pressure", RefusalReason.BadId)]
    [InlineData("axles/v1/f/v\u00e9/pressure", RefusalReason.BadId)]
    [InlineData("axles/v1/f/v/", RefusalReason.UnknownStream)]
    [InlineData("axles/v1/f/v/Pressure", RefusalReason.UnknownStream)]
    [InlineData("axles/v1/f/v/advice", RefusalReason.UnknownStream)]
    public void Any_other_topic_is_refused_with_its_reason(string text, RefusalReason reason) =>
        Assert.Equal(reason, Assert.IsType<TopicResult.Refused>(Topic.Parse(text)).Refusal.Reason);

    [Fact]
    public void An_id_has_at_most_64_characters()
    {
        Assert.IsType<TopicResult.Named>(Topic.Parse($"axles/v1/f/{new string('v', 64)}/lift"));
        Assert.IsType<TopicResult.Refused>(Topic.Parse($"axles/v1/f/{new string('v', 65)}/lift"));
    }

    [Fact]
    public void Each_stream_has_a_name_and_is_found_by_it()
    {
        Assert.Equal(Enum.GetValues<UpStream>().Length, UpStreamNames.All.Length);
        foreach (var stream in Enum.GetValues<UpStream>()) Assert.Equal(stream, UpStreamNames.Find(stream.Name()));
    }
}
