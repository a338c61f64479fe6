using AxleTelemetry.Messages.Topics;

namespace AxleTelemetry.Service.Receiving;

/// <summary>What one device may do at the embedded broker: send as its own vehicle, and read the advice for it.</summary>
/// <param name="User">Its user name, which must be its client id as well: else it could end another's session.</param>
/// <param name="Password">What is kept of its password.</param>
/// <param name="Fleet">Id of the vehicle's fleet.</param>
/// <param name="Vehicle">Id of the vehicle.</param>
internal sealed record DeviceAccess(string User, DevicePassword Password, string Fleet, string Vehicle)
{
    public bool MaySend(string topic) => UpTopic.Matches(topic) && topic.StartsWith($"{Topic.Root}{Fleet}/{Vehicle}/", StringComparison.Ordinal);

    public bool MayRead(string filter) => filter == $"{Topic.Root}{Fleet}/{Vehicle}/advice";
}
