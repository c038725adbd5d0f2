namespace Chamber.Core.Forecasts;

/// <summary>What a grower waits for.</summary>
public enum Milestone
{
    /// <summary>The first seed is up.</summary>
    First,

    /// <summary>Half of all that will ever come up are up.</summary>
    Half,

    /// <summary>Nine in ten of all that will ever come up are up.</summary>
    Most,

    /// <summary>One more than at the last look.</summary>
    Next,
}

internal static class Milestones
{
    /// <summary>How many must be up when so many come up in all.</summary>
    /// <param name="milestone">What is waited for.</param>
    /// <param name="final">How many come up in all, at least 1.</param>
    /// <param name="up">How many are up now.</param>
    public static int Needed(this Milestone milestone, int final, int up) => milestone switch
    {
        Milestone.First => 1,
        Milestone.Half => (final + 1) / 2,
        Milestone.Most => (9 * final + 9) / 10,
        _ => up + 1,
    };
}
