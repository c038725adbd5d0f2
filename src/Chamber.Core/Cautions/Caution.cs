namespace Chamber.Core.Cautions;

/// <summary>The acts at which a caution is shown in full. Wherever else it belongs it stands as its one short line.</summary>
[Flags]
public enum CautionMoments
{
    None = 0,

    /// <summary>A spot, or something on it, is set up.</summary>
    SettingUp = 1,

    /// <summary>Seed is sown, or laid out for a test.</summary>
    Sowing = 2,

    /// <summary>An alert sends a hand to a spot, a probe or a batch.</summary>
    Alert = 4,

    /// <summary>A lot is recorded, or one lot is asked about.</summary>
    KeepingSeed = 8,

    /// <summary>Somebody records mould.</summary>
    Mould = 16,

    /// <summary>A probe is calibrated.</summary>
    Calibrating = 32,
}

/// <summary>A caution of the catalogue: what it says in one line and in full, when, and where it comes from.</summary>
/// <param name="Name">Stable, lower case with hyphens, as <c>chamber cautions heat-mat</c> takes it.</param>
/// <param name="Line">One line of at most <see cref="LineMax"/> letters, its own sentence.</param>
/// <param name="Full">All of it, at most <see cref="FullMax"/> letters.</param>
/// <param name="Moments">When it is shown in full; none for a line that is only ever short.</param>
/// <param name="Where">What it belongs to, to end the sentence "Shown ...".</param>
public sealed record Caution(string Name, string Line, string Full, CautionMoments Moments, string Where)
{
    public const int LineMax = 120;

    public const int FullMax = 600;

    /// <summary>Where it comes from.</summary>
    public string Source { get; init; } = CommonPractice;

    /// <summary>The origin of a caution for which no publication is named.</summary>
    public const string CommonPractice = "common practice, no source";
}
