namespace Chamber.Core.Batches;

/// <summary>Names a batch; short enough for a stick label, such as <c>T3</c>. Equality is by exact spelling (<see cref="Identifier"/>). The
/// default value names nothing and must not be used.</summary>
public readonly record struct BatchId
{
    private readonly string? text;

    /// <exception cref="FormatException">The text breaks the rule of <see cref="Identifier"/>.</exception>
    public BatchId(string text) => this.text = Identifier.Require(text, "batch");

    /// <summary>The identifier as typed.</summary>
    public string Text => text ?? throw new InvalidOperationException("A default BatchId names nothing.");

    public override string ToString() => text ?? "(none)";
}
