namespace Chamber.Core.Diagnosis;

/// <summary>
/// The causes by name, in the order in which they are looked for: of two that would explain as much, the first is named. What was
/// seen or measured comes before what is only left over.
/// </summary>
public enum CauseKind
{
    /// <summary>Every seed is up.</summary>
    AllUp,

    /// <summary>Nobody has looked for so long that more may be up.</summary>
    NotLooked,

    /// <summary>Too hot: at such heat sound seed does not come up.</summary>
    TooHot,

    /// <summary>Too hot at times and too cold at others.</summary>
    Unsteady,

    /// <summary>It went mouldy.</summary>
    Mould,

    /// <summary>It stood in water.</summary>
    TooWet,

    /// <summary>It dried out.</summary>
    DriedOut,

    /// <summary>It wants light to come up and stood in the dark.</summary>
    WrongLight,

    /// <summary>It wants a moist chill first and has not had it.</summary>
    NotChilled,

    /// <summary>Too cold: it has not had the warmth.</summary>
    TooCold,

    /// <summary>Its lot was known to be weak.</summary>
    WeakLot,

    /// <summary>Too much of the time nothing was measured.</summary>
    NotMeasured,

    /// <summary>Its seed is past its life.</summary>
    OldSeed,

    /// <summary>Its lot was never tested, and nothing else explains it.</summary>
    UntestedLot,

    /// <summary>The seed is treated, which can hold it back.</summary>
    TreatedSeed,

    /// <summary>Spot and seed were right: depth, or a coat that wanted soaking or cold first.</summary>
    SownWrong,

    /// <summary>It came up and plants were lost afterwards.</summary>
    LostAfter,

    /// <summary>It came up and stood in the warm and dark.</summary>
    WarmAndDark,

    /// <summary>It has had what it needs and is simply late.</summary>
    Late,

    /// <summary>Nothing is late yet.</summary>
    NotYet,

    /// <summary>As many came up as could be expected.</summary>
    WentWell,
}

/// <summary>Causes as words, for scripts and for what is kept.</summary>
public static class CauseKinds
{
    /// <summary>Every cause in words, and the words of earlier versions.</summary>
    public static IReadOnlyList<(string Words, CauseKind Kind)> All { get; } =
    [
        .. Enum.GetValues<CauseKind>().Select(kind => (Spaced(kind), kind)),
        ("cold spot", CauseKind.TooCold),
        ("wrong temperature", CauseKind.TooHot),
    ];

    /// <summary>Reads a name, with or without spaces, in any case, also one of an earlier version; null when there is none of that
    /// name.</summary>
    public static CauseKind? Read(string? text)
    {
        var name = Bare(text ?? "");
        return All.Where(known => string.Equals(Bare(known.Words), name, StringComparison.OrdinalIgnoreCase))
            .Select(known => (CauseKind?)known.Kind).FirstOrDefault();
    }

    private static string Bare(string text) => text.Replace(" ", "", StringComparison.Ordinal);

    private static string Spaced(CauseKind kind) =>
        string.Concat(kind.ToString().Select((letter, i) => i > 0 && char.IsUpper(letter) ? $" {char.ToLowerInvariant(letter)}"
            : char.ToLowerInvariant(letter).ToString()));
}

/// <summary>Whose doing it was: seed, spot, water, or me?</summary>
public enum Blame
{
    /// <summary>It went as well as could be expected.</summary>
    Nobody,
    Seed,
    Spot,
    Water,

    /// <summary>Something the grower did or left undone.</summary>
    Grower,

    /// <summary>Too little is known.</summary>
    CannotSay,

    /// <summary>It isn't over.</summary>
    StillOpen,
}
