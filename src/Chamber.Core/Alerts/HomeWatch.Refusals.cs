using Chamber.Core.Climate;
using NodaTime;

namespace Chamber.Core.Alerts;

/// <summary>What was refused.</summary>
public sealed partial class HomeWatch
{
    /// <summary>Takes in something that arrived and is not used.</summary>
    public IReadOnlyList<WatchEvent> Step(Refusal refusal, Instant now)
    {
        _ = refusal;
        return Tell(now);
    }
}
