using Chamber.Service.Configuration;

namespace Chamber.Service.Mirror;

/// <summary>Held by the one process that sends; the system lets go of it when that process ends, however it ends.</summary>
internal static class MirrorHold
{
    /// <summary>Null while another process sends.</summary>
    public static IDisposable? TryTake(DataDirectory data)
    {
        try
        {
            return new FileStream(data.MirrorLock, FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None);
        }
        catch (IOException)
        {
            return null;
        }
    }
}
