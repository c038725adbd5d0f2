using System.Text.Json;
using Chamber.Service.Configuration;

namespace Chamber.Service.Notify;

/// <summary>The key pair by which push services know this home, in its own file that only its owner can read. Made when first asked
/// for.</summary>
internal sealed class PushKeys(string path)
{
    private readonly Lock gate = new();
    private VapidKeys? pair;

    /// <exception cref="BadInputException">The file holds no pair of keys; the message says the fix.</exception>
    /// <exception cref="IOException">It cannot be read or written.</exception>
    public VapidKeys Pair()
    {
        lock (gate)
        {
            return pair ??= File.Exists(path) ? Read() : Make();
        }
    }

    private VapidKeys Read()
    {
        try
        {
            return JsonSerializer.Deserialize<VapidKeys>(File.ReadAllText(path)) is { IsPair: true } read ? read
                : throw new JsonException();
        }
        catch (JsonException problem)
        {
            throw new BadInputException($"{path} holds no pair of keys: put back a good copy; or delete it, restart Chamber, and let every "
                + $"browser ask for notices again.", problem);
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
