using NodaTime;

namespace Chamber.Service.Mirror;

/// <summary>Held by the one process that sends; the system lets go of it when that process ends, however it ends.</summary>
internal static class SendingHold
{
    /// <summary>Null while another process sends.</summary>
    public static IDisposable? TryTake(string file)
    {
        try
        {
            return new FileStream(file, FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None);
        }
        catch (IOException)
        {
            return null;
        }
    }

    /// <summary>Waits until no other process sends.</summary>
    public static async Task<IDisposable> TakeAsync(string file, Duration every, TimeProvider clock, CancellationToken stop)
    {
        while (true)
        {
            if (TryTake(file) is { } hold)
            {
                return hold;
            }

            await Task.Delay(every.ToTimeSpan(), clock, stop);
        }
    }
}
