using Chamber.Core.Crops;
using Chamber.Service.Configuration;
using Chamber.Service.Home;
using Chamber.Service.Mirror;
using Chamber.Storage;
using Chamber.Testing;
using NodaTime;

namespace Chamber.Service.Tests.Mirror;

/// <summary>A data directory and the mirror on it, made again as after a restart whenever a test asks for it.</summary>
internal sealed class MirrorRig : IDisposable
{
    private readonly TempFolder folder = new();

    public MirrorRig(string url, int batchLines = 500)
    {
        Settings = new() { Url = url, BatchLines = batchLines };
        Data = new(folder.Path);
        Store = ChamberStore.Open(Data.Database);
    }

    public MirrorSettings Settings { get; set; }

    public DataDirectory Data { get; }

    public ChamberStore Store { get; private set; }

    public MirrorCursor Cursor => MirrorCursor.Load(Store, Settings.Target());

    public TimeProvider Clock { get; set; } = TimeProvider.System;

    public MirrorPump Pump(SendLines send) => new(
        Store, Settings, send,
        new(Store, () => new HomeReader(Store.Home, Store.Records, CropCatalog.Shipped, DateTimeZone.Utc)), new(Data), Clock);

    /// <summary>Opens the file again, as a new process does.</summary>
    public void Restart()
    {
        Store.Dispose();
        Store = ChamberStore.Open(Data.Database);
    }

    /// <summary>Pumps until nothing is left, trying again at once, as a new process would, whatever goes wrong.</summary>
    public async Task<IReadOnlyList<string>> PumpDry(SendLines send, Func<Task>? onTrouble = null)
    {
        var troubles = new List<string>();
        var pump = Pump(send);
        while (true)
        {
            var step = await pump.StepAsync(TestContext.Current.CancellationToken);
            if (step.Trouble is { } trouble)
            {
                troubles.Add(trouble);
                await (onTrouble?.Invoke() ?? throw new InvalidOperationException(trouble));
                pump = Pump(send);
            }
            else if (!pump.HasMore)
            {
                break;
            }
        }

        return troubles;
    }

    public void Dispose()
    {
        Store.Dispose();
        folder.Dispose();
    }
}
