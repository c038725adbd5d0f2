using Chamber.Core.Climate;

namespace Chamber.Service.Import;

/// <summary>What one line of a file came to.</summary>
/// <param name="Number">Counted from 1, the header included.</param>
/// <param name="Reading">What can be used; null when nothing can.</param>
/// <param name="Refusals">What cannot, and why.</param>
internal readonly record struct LoggerLine(long Number, Reading? Reading, IReadOnlyList<Refusal> Refusals);
