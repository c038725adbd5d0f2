using NodaTime;

namespace Chamber.Service.Health;

/// <summary>How the mirror is.</summary>
/// <param name="Unsent">Readings that it has not got.</param>
/// <param name="Behind">How old the oldest of them is.</param>
/// <param name="Trouble">What keeps it from getting them; null when nothing does.</param>
internal sealed record MirrorHealth(long Unsent, Duration? Behind, string? Trouble);
