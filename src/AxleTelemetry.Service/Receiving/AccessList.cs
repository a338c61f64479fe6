using System.Collections.Frozen;

namespace AxleTelemetry.Service.Receiving;

/// <summary>Who may connect to the embedded broker, and to what.</summary>
internal sealed class AccessList
{
    private readonly FrozenDictionary<string, DeviceAccess> _byUser;

    /// <param name="devices">User names are unique.</param>
    public AccessList(IEnumerable<DeviceAccess> devices) => _byUser = devices.ToFrozenDictionary(device => device.User, StringComparer.Ordinal);

    public bool MayConnect(string? user, ReadOnlySpan<byte> password, string? clientId) => Find(user) is { } device && clientId == device.User && device.Password.Is(password);

    public bool MaySend(string? user, string topic) => Find(user)?.MaySend(topic) ?? false;

    public bool MayRead(string? user, string filter) => Find(user)?.MayRead(filter) ?? false;

    private DeviceAccess? Find(string? user) => user is null ? null : _byUser.GetValueOrDefault(user);
}
