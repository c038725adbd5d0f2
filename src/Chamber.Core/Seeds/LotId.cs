namespace Chamber.Core.Seeds;

/// <summary>Names seeds of one origin. Equality is by exact spelling (<see cref="Identifier"/>). The default value names nothing and must
/// not be used.</summary>
public readonly record struct LotId
{
    private readonly string? text;

    /// <exception cref="FormatException">The text breaks the rule of <see cref="Identifier"/>.</exception>
    public LotId(string text) => this.text = Identifier.Require(text, "lot");

    /// <summary>The identifier as typed.</summary>
    public string Text => text ?? throw new InvalidOperationException("A default LotId names nothing.");

    public override string ToString() => text ?? "(none)";
}
