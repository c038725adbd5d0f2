using System.Text.Json;
using Chamber.Service.Configuration;

namespace Chamber.Service.Notify;

/// <summary>The key pair by which push services know this home, in its own file that only its owner can read. Made when first asked
/// for.</summary>
internal sealed class PushKeys(string path)
{
    private readonly Lock gate = new();
    private VapidKeys? pair;

    public VapidKeys Pair()
    {
        lock (gate)
        {
            return pair ??= File.Exists(path) ? JsonSerializer.Deserialize<VapidKeys>(File.ReadAllText(path))! : Make();
        }
    }

    // Half a pair would have every browser subscribe again.
    private VapidKeys Make()
    {
        var made = VapidKeys.Create();
        WholeFile.Write(path, JsonSerializer.Serialize(made), ownerOnly: true);
        return made;
    }
}
