namespace Chamber.Core.Crops;

/// <summary>Names a kind of seed in the catalog, such as <c>tomato</c>. Equality is by exact spelling (<see cref="Identifier"/>). The
/// default value names nothing and must not be used.</summary>
public readonly record struct CropId
{
    private readonly string? text;

    /// <exception cref="FormatException">The text breaks the rule of <see cref="Identifier"/>.</exception>
    public CropId(string text) => this.text = Identifier.Require(text, "crop");

    /// <summary>The identifier as typed.</summary>
    public string Text => text ?? throw new InvalidOperationException("A default CropId names nothing.");

    public override string ToString() => text ?? "(none)";
}
