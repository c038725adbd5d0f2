namespace Chamber.Core.Seeds;

/// <summary>What is known of a lot and may be unknown.</summary>
[Flags]
public enum LotParts
{
    None = 0,
    Variety = 1,
    Year = 2,
    Parent = 4,
    Price = 8,
    Bought = 16,
    Stated = 32,
    Note = 64,
}
