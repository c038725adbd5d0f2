namespace Chamber.Service.Notify;

/// <summary>Stands for a channel that is set up and cannot be used: it says why to whoever sends by it.</summary>
internal sealed class BrokenChannel(string name, string reason) : INoticeChannel
{
    public string Name => name;

    public bool OnlyWhenUnseen => false;

    public Task<Delivery> SendAsync(Notice notice, CancellationToken cancellationToken) => Task.FromResult(Delivery.Never(reason));
}
