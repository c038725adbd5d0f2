namespace Chamber.Core.Crops;

/// <summary>How seed is sown.</summary>
public enum SowingMethod
{
    /// <summary>In mix, covered with mix.</summary>
    CoveredMix,

    /// <summary>Pressed onto mix and left open to the light.</summary>
    OpenMix,

    /// <summary>Between folds of a damp towel.</summary>
    DampTowel,
}

/// <summary>What counts as up. The two must never be compared with one another.</summary>
public enum EmergenceEvent
{
    /// <summary>The shoot is seen above the mix (emergence).</summary>
    ShootSeen,

    /// <summary>The root tip is seen in the towel (radicle protrusion).</summary>
    RootSeen,
}

/// <summary>What a method decides.</summary>
public static class SowingMethods
{
    /// <summary>The event that counts as up for a method.</summary>
    public static EmergenceEvent Event(this SowingMethod method) =>
        method == SowingMethod.DampTowel ? EmergenceEvent.RootSeen : EmergenceEvent.ShootSeen;
}
