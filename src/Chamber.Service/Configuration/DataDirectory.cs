
namespace Chamber.Service.Configuration;

/// <summary>The one directory that holds everything of a home: the database and the settings.</summary>
internal sealed record DataDirectory(string Path)
{
    public const string Variable = "CHAMBER_DATA";

    public string Database => System.IO.Path.Combine(Path, "chamber.db");

    public string Settings => System.IO.Path.Combine(Path, "chamber.json");

    /// <summary>The user's own crops.</summary>
    public string Crops => System.IO.Path.Combine(Path, "crops.json");

    /// <summary>What other homes have given, and the name under which this one gives.</summary>
    public string Experience => System.IO.Path.Combine(Path, "experience.json");

    /// <summary>Users of the own broker.</summary>
    public string BrokerUsers => System.IO.Path.Combine(Path, "broker-users");

    /// <summary>The certificate that Chamber made for its broker: for the sensors to trust.</summary>
    public string BrokerCertificate => System.IO.Path.Combine(Path, "broker-certificate.pem");

    /// <summary>The key of that certificate.</summary>
    public string BrokerKey => System.IO.Path.Combine(Path, "broker-key.pem");

    /// <summary>Retained messages of the own broker.</summary>
    public string BrokerRetained => System.IO.Path.Combine(Path, "broker-retained.json");

    /// <summary>Who may use the page.</summary>
    public string PageAccess => System.IO.Path.Combine(Path, "page-access.json");

    /// <summary>The keys that seal the cookies of the page.</summary>
    public string PageKeys => System.IO.Path.Combine(Path, "page-keys");

    /// <summary>The certificate that Chamber made for the page.</summary>
    public string PageCertificate => System.IO.Path.Combine(Path, "page-certificate.pfx");

    /// <summary>The keys by which push services know this home.</summary>
    public string PushKeys => System.IO.Path.Combine(Path, "push-keys.json");

    /// <summary>A backup that takes the place of the database when the service starts next.</summary>
    public string RestoreAtStart => System.IO.Path.Combine(Path, "restore-at-start.db");

    /// <summary>The user's own words for notices.</summary>
    public string Templates => System.IO.Path.Combine(Path, "templates");

    /// <summary>Photos of batches.</summary>
    public string Photos => System.IO.Path.Combine(Path, "photos");

    public string Backups => System.IO.Path.Combine(Path, "backups");

    /// <summary>Lines that the server of the mirror refused for good.</summary>
    public string MirrorRefused => System.IO.Path.Combine(Path, "mirror-refused.txt");

    /// <summary>Held by the one process that sends to the club.</summary>
    public string ClubLock => System.IO.Path.Combine(Path, "club.lock");

    /// <summary>Held by the one process that sends to the mirror.</summary>
    public string MirrorLock => System.IO.Path.Combine(Path, "mirror.lock");

    /// <summary>The topics that a home-automation hub was told, one a line.</summary>
    public string HubTopics => System.IO.Path.Combine(Path, "hub-topics.txt");

    public string Logs => System.IO.Path.Combine(Path, "logs");

    /// <summary>A file named in the settings: absolute, or inside this directory.</summary>
    public string Resolve(string file) => System.IO.Path.GetFullPath(file, Path);

    /// <summary>What was asked for, otherwise CHAMBER_DATA, otherwise the XDG data directory of the user.</summary>
    public static DataDirectory Choose(string? asked, Func<string, string?> variable)
    {
        var chosen = Filled(asked) ?? Filled(variable(Variable)) ?? Default(variable);
        return new(System.IO.Path.GetFullPath(chosen));
    }

    /// <exception cref="BadInputException">It cannot be made, or it is a file.</exception>
    public void Make()
    {
        try
        {
            Directory.CreateDirectory(Path);
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            throw new BadInputException($"{Path} cannot hold the data: {problem.Message} Name another directory with --data.", problem);
        }
    }

    private static string Default(Func<string, string?> variable) => System.IO.Path.Combine(
        Filled(variable("XDG_DATA_HOME")) ?? System.IO.Path.Combine(
            Filled(variable("HOME")) ?? Environment.GetFolderPath(Environment.SpecialFolder.UserProfile), ".local", "share"),
        "chamber");

    private static string? Filled(string? text) => string.IsNullOrWhiteSpace(text) ? null : text;
}
