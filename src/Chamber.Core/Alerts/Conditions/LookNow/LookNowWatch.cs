using Chamber.Core.Alerts.Fold;
using Chamber.Core.Folding;

namespace Chamber.Core.Alerts.Conditions.LookNow;

/// <summary>A forecast asks for a look, and a look answers it.</summary>
internal sealed class LookNowWatch(Condition condition, LocationState location) : ConditionWatch(condition, location)
{
    public override void LookWanted(BatchState batch, LookWanted look)
    {
        if (!batch.IsUp)
        {
            Raise(batch.Subject, Severity.Note, look.At, look.At, batch.Name)[FigureName.Chance] = look.Chance;
        }
    }

    public override void Looked(BatchState batch, Moment at, bool isMore) => Release(batch.Subject, batch.Name, at);

    public override bool HoldsOn(BatchState batch) => !batch.IsUp;
}
