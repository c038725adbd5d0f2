namespace Chamber.Storage.Seam;

/// <summary>What one pass of the roll-up did.</summary>
/// <param name="Looked">So many old readings were looked at.</param>
/// <param name="Removed">So many of them gave way to a stretch.</param>
/// <param name="Stretches">So many stretches took their place.</param>
/// <param name="More">There is more to do; call again when there is time.</param>
public sealed record RollUpResult(long Looked, long Removed, long Stretches, bool More);
