namespace Chamber.Core.Spots;

/// <summary>Names a warm place. Equality is by exact spelling (<see cref="Identifier"/>). The default value names nothing and must not be
/// used.</summary>
public readonly record struct SpotId
{
    private readonly string? text;

    /// <exception cref="FormatException">The text breaks the rule of <see cref="Identifier"/>.</exception>
    public SpotId(string text) => this.text = Identifier.Require(text, "spot");

    /// <summary>The identifier as typed.</summary>
    public string Text => text ?? throw new InvalidOperationException("A default SpotId names nothing.");

    public override string ToString() => text ?? "(none)";
}
