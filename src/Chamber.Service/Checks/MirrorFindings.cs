using Chamber.Service.Configuration;
using Chamber.Service.Mirror;

namespace Chamber.Service.Checks;

/// <summary>Looks at the server of the long history, where there is one.</summary>
internal static class MirrorFindings
{
    // A request without lines proves address, token and bucket as far as the server tells, and leaves nothing there.
    public static async Task<IReadOnlyList<Finding>> All(Settings settings, DataDirectory data, CancellationToken cancel)
    {
        if (settings.Mirror is not { } mirror)
        {
            return [];
        }

        using var server = new MirrorServer(mirror, data);
        var answer = await server.SendAsync(["# Is anybody there?"], cancel);
        return answer.Receipt == Receipt.Taken
            ? [Finding.Fine("mirror", $"{mirror.Target()} takes lines")]
            : [Finding.Wrong("mirror", answer.Reason)];
    }
}
