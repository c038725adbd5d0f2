using Chamber.Service.Configuration;

namespace Chamber.Service.Checks;

/// <summary>Looks at who may read and write the files.</summary>
internal static class AccessFindings
{
    private const UnixFileMode Others = UnixFileMode.OtherRead | UnixFileMode.OtherWrite;

    public static IEnumerable<Finding> All(Settings settings, DataDirectory data)
    {
        if (!Directory.Exists(data.Path))
        {
            return [];
        }

        var wrong = new[] { Folder(data.Path) }.OfType<Finding>()
            .Concat(new[] { data.Database, data.Database + "-wal", data.BrokerRetained, data.BrokerUsers, data.PageAccess }.Where(
                File.Exists).Select(Writable).OfType<Finding>())
            .Concat(Secrets(settings, data).Where(File.Exists).Select(Closed).OfType<Finding>())
            .ToList();
        return wrong.Count > 0 ? wrong
            : [Finding.Fine("permissions", $"{OwnUser.Name} may write, and secrets are closed to others")];
    }

    /// <summary>Files that hold or prove a secret.</summary>
    private static IEnumerable<string> Secrets(Settings settings, DataDirectory data) =>
        new[]
        {
            data.BrokerUsers, data.PageAccess, data.PageCertificate, settings.Mirror?.TokenFile,
            settings.Broker.PasswordFile, settings.Broker.Tls?.Key, settings.Page.Key,
            settings.Notices.Email?.PasswordFile, settings.Notices.Webhook?.SecretFile,
            settings.Broker.Password is null && settings.Notices.Email?.Password is null && settings.Notices.Webhook?.Secret is null
                && settings.Mirror?.Token is null ? null : data.Settings,
        }
        .OfType<string>().Select(data.Resolve).Distinct(StringComparer.Ordinal);

    private static Finding? Folder(string path)
    {
        var trial = Path.Combine(path, $".check-{Environment.ProcessId}");
        try
        {
            File.WriteAllBytes(trial, []);
            File.Delete(trial);
            return null;
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            return Finding.Wrong("permissions", $"{OwnUser.Name} may not write in {path}",
                $"run this as the user of the service, or: chown -R {OwnUser.Name} {path}");
        }
    }

    private static Finding? Writable(string path)
    {
        try
        {
            using var handle = File.Open(path, FileMode.Open, FileAccess.ReadWrite, FileShare.ReadWrite | FileShare.Delete);
            return null;
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            return Finding.Wrong("permissions", $"{OwnUser.Name} may not write {path}", $"chown {OwnUser.Name} {path}");
        }
    }

    private static Finding? Closed(string path) => !OperatingSystem.IsWindows() && (File.GetUnixFileMode(path) & Others) != 0
        ? Finding.Wrong("permissions", $"everybody on this machine may read {path}, which holds a secret", $"chmod 600 {path}")
        : null;
}
