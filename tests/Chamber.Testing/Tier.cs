namespace Chamber.Testing;

/// <summary>
/// How much of the tests a run covers. <c>./test fast</c> leaves out what carries the trait <see cref="Whole"/>: what asks R or SciPy,
/// runs the program as a process, fills disks, runs other servers, or simulates for long.
/// </summary>
public static class Tier
{
    /// <summary>The name of the trait.</summary>
    public const string Name = "tier";

    /// <summary>Runs with <c>./test</c> alone.</summary>
    public const string Whole = "whole";
}
