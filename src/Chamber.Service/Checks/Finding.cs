namespace Chamber.Service.Checks;

/// <summary>How bad it is.</summary>
internal enum FindingState
{
    Good,

    /// <summary>Worth knowing; nothing is broken.</summary>
    Note,

    /// <summary>Readings, alerts or backups suffer from it.</summary>
    Wrong,
}

/// <summary>One thing that was looked at.</summary>
/// <param name="What">What was looked at.</param>
/// <param name="State">How it is.</param>
/// <param name="Says">What was found.</param>
/// <param name="Fix">What to do about it; null when there is nothing to do.</param>
internal sealed record Finding(string What, FindingState State, string Says, string? Fix = null)
{
    public bool Good => State != FindingState.Wrong;

    public static Finding Fine(string what, string says) => new(what, FindingState.Good, says);

    public static Finding Note(string what, string says, string fix) => new(what, FindingState.Note, says, fix);

    public static Finding Wrong(string what, string says, string? fix = null) => new(what, FindingState.Wrong, says, fix);

    /// <summary>Found and fix in one.</summary>
    public string Line => Fix is null ? Says : $"{Says}: {Fix}";
}
