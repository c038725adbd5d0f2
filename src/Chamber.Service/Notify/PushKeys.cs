using System.Text.Json;

namespace Chamber.Service.Notify;

/// <summary>The key pair by which push services know this home, in a file of its own that only its owner can read. Made when first asked for.</summary>
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

    // Written beside and renamed, so that a crash leaves no half pair; browsers would have to subscribe again.
    private VapidKeys Make()
    {
        var made = VapidKeys.Create();
        var beside = path + ".new";
        var options = new FileStreamOptions { Mode = FileMode.Create, Access = FileAccess.Write };
        if (!OperatingSystem.IsWindows())
        {
            options.UnixCreateMode = UnixFileMode.UserRead | UnixFileMode.UserWrite;
        }

        using (var file = new FileStream(beside, options))
        {
            JsonSerializer.Serialize(file, made);
        }

        File.Move(beside, path, overwrite: true);
        return made;
    }
}
