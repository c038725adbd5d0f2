namespace Chamber.Core.Crops;

/// <summary>Whose rule it is that seed on sale must reach a share.</summary>
public enum LegalRule
{
    /// <summary>The United States' for vegetable seed: Federal Seed Act Regulations, 7 CFR 201.31.</summary>
    Federal,

    /// <summary>One state's, for herbs that the federal rule leaves out: New Hampshire Administrative Code, Agr 2203.01.</summary>
    NewHampshire,
}
