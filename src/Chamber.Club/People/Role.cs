namespace Chamber.Club.People;

/// <summary>What somebody may do in a home; each more than the one before.</summary>
public enum Role
{
    /// <summary>Looks.</summary>
    Guest,

    /// <summary>Writes down, as at home.</summary>
    Member,

    /// <summary>Also lets people and sensors in.</summary>
    Owner,
}

/// <summary>Roles as the database has them.</summary>
internal static class RoleText
{
    public static string Word(this Role role) => role.ToString().ToLowerInvariant();

    public static Role Of(string word) => Enum.Parse<Role>(word, ignoreCase: true);

    public static string Words(this Role role) => role switch
    {
        Role.Owner => "owner: records, and lets people and sensors in",
        Role.Member => "member: records",
        _ => "guest: only looks",
    };
}
