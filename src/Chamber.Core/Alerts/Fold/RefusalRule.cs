using Chamber.Core.Climate;
using NodaTime;

namespace Chamber.Core.Alerts.Fold;

/// <summary>A fault of a probe that shows in what is refused of it.</summary>
/// <param name="Fault">Which fault.</param>
/// <param name="Reasons">The refusals that count.</param>
/// <param name="Span">So many within this are a fault.</param>
/// <param name="Clear">It is over when none has come for so long.</param>
/// <param name="Severity">How much it matters.</param>
internal sealed record RefusalRule(ProbeFault Fault, IReadOnlyList<RefusalReason> Reasons, Duration Span, Duration Clear,
    Severity Severity);
