namespace Chamber.Core.Climate;

/// <summary>Names one sensor, or a thermometer somebody reads. Equality is by exact spelling (<see cref="Identifier"/>). The default value
/// names nothing and must not be used.</summary>
public readonly record struct ProbeId
{
    private readonly string? text;

    /// <exception cref="FormatException">The text breaks the rule of <see cref="Identifier"/>.</exception>
    public ProbeId(string text) => this.text = Identifier.Require(text, "probe");

    /// <summary>The identifier as typed.</summary>
    public string Text => text ?? throw new InvalidOperationException("A default ProbeId names nothing.");

    public override string ToString() => text ?? "(none)";
}
