using Chamber.Core.Alerts.Fold;
using Chamber.Core.Folding;

namespace Chamber.Core.Alerts.Conditions.StopWaiting;

/// <summary>A forecast gives the rest of a batch up, and one more that comes up proves it wrong.</summary>
internal sealed class StopWaitingWatch(Condition condition, LocationState location) : ConditionWatch(condition, location)
{
    public override void WaitingOver(BatchState batch, WaitingOver end)
    {
        var alert = Raise(batch.Subject, Severity.Note, end.At, end.At, batch.Name);
        alert[FigureName.Chance] = end.Chance;
        alert[FigureName.Up] = batch.Up;
        alert.Why = end.Why;
    }

    public override void Looked(BatchState batch, Moment at, bool isMore)
    {
        if (isMore)
        {
            Release(batch.Subject, batch.Name, at);
        }
    }
}
