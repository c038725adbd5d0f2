namespace Chamber.Core.Forecasts.Learning;

/// <summary>
/// What is assumed of what homes share and differ in, before any home has given what its batches have shown. None is published. How far
/// homes differ is learned from them; each assumption counts as so many homes.
/// </summary>
public static class TogetherPriors
{
    /// <summary>How far a kind of spot lies from others, ln θ: where the probe hangs, and what warms the mix from below.</summary>
    public const double SpotDeviation = 0.1;

    /// <summary>How much slower a year makes seed, ln θ a year.</summary>
    public const double AgeDeviation = 0.03;

    /// <summary>How far homes differ in one crop, beside what their lots do, ln θ.</summary>
    public const double CropApart = 0.08;

    /// <summary>The same in one method.</summary>
    public const double MethodApart = 0.05;

    /// <summary>The same in one kind of spot.</summary>
    public const double SpotApart = 0.05;

    /// <summary>The same in what a year does, ln θ a year.</summary>
    public const double AgeApart = 0.01;

    /// <summary>The same in the base of a crop, K: sorts differ in it.</summary>
    public const double BaseApart = 0.7;

    /// <summary>How many homes, lots or batches that are known without any doubt each of these is worth beside what they show: real ones
    /// count for less, the more so the fewer batches they have.</summary>
    public const double Worth = 2;

    /// <summary>What is learned of them is held between the assumption divided and multiplied by this.</summary>
    public const double ApartRange = 4;

    /// <summary>How many honest homes' pulls are left as they are; larger ones are cut, at little loss.</summary>
    public const double Uncut = 0.9;
}
