using System.Globalization;

namespace AxleTelemetry.Storage.Opening;

/// <summary>Keeps a second process out for as long as it is held. The system lets go of it when the process ends, however it ends.</summary>
internal sealed class LockFile : IDisposable
{
    // What the system calls 'held by another': EAGAIN on Linux, on BSD and macOS, the sharing violation of Windows.
    private static readonly int[] HeldByAnother = [11, 35, unchecked((int)0x80070020)];

    private readonly FileStream held;

    private LockFile(FileStream held) => this.held = held;

    /// <summary>Takes the lock; null when another holds it.</summary>
    /// <exception cref="IOException">The file cannot be made.</exception>
    /// <exception cref="UnauthorizedAccessException">The file may not be made.</exception>
    public static LockFile? Take(JournalFiles files, DateTimeOffset now)
    {
        FileStream held;
        try
        {
            held = new FileStream(files.Lock, FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None);
        }
        catch (IOException e) when (HeldByAnother.Contains(e.HResult))
        {
            return null;
        }

        return Named(new LockFile(held), files, now);
    }

    /// <summary>Who holds the lock, as it wrote itself.</summary>
    public static string OwnerOf(JournalFiles files) => File.Exists(files.Owner) ? File.ReadAllText(files.Owner).Trim() : "unknown";

    public void Dispose() => held.Dispose();

    private static LockFile Named(LockFile taken, JournalFiles files, DateTimeOffset now)
    {
        try
        {
            File.WriteAllText(files.Owner, Words(now));
            return taken;
        }
        catch
        {
            taken.Dispose();
            throw;
        }
    }

    private static string Words(DateTimeOffset now) =>
        string.Create(CultureInfo.InvariantCulture, $"process {Environment.ProcessId} on {Environment.MachineName} since {now:yyyy-MM-dd'T'HH:mm:ss'Z'}");
}
