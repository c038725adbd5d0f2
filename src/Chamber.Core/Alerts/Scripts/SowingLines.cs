using Chamber.Core.Batches;
using Chamber.Core.Crops;
using NodaTime;

namespace Chamber.Core.Alerts.Scripts;

/// <summary>What is done with batches in a script.</summary>
internal sealed class SowingLines(ScriptDraft draft)
{
    public const string SowForm = "sow T1: 12 tomato in covered mix on shelf";

    public void Sow(ScriptLine line, Instant at)
    {
        var id = new BatchId(line.Identifier("batch", SowForm));
        line.Need(":", SowForm);
        var seeds = line.Whole("number of seeds", SowForm, Bounds.Seeds);
        var crop = draft.Crop(line, SowForm);
        line.Need("in", SowForm);
        var method = line.Choose<SowingMethod>(line.Word("method", SowForm) + line.Word("method", SowForm), "method");
        line.Need("on", SowForm);
        draft.Batches[id.Text] = new(id, crop, method, seeds, at) { Moves = { (at, draft.Spot(line).Id) },
            HasCover = !line.Take("without cover") };
    }

    private static readonly Bound Up = Bounds.Seeds with { What = "how many are up", Low = 0 };

    /// <summary>Takes something that is done to a batch; returns whether it was.</summary>
    public bool Do(ScriptLine line, Instant at)
    {
        if (line.Take("sow"))
        {
            Sow(line, at);
        }
        else if (line.Take("look at"))
        {
            Look(line, at);
        }
        else if (line.Take("wet"))
        {
            draft.Batch(line, "wet T1").Wettings.Add(at);
        }
        else if (line.Take("uncover"))
        {
            draft.Batch(line, "uncover T1").CoverOffAt = at;
        }
        else if (line.Take("end"))
        {
            draft.Batch(line, "end T1").EndedAt = at;
        }
        else if (line.Take("forecast"))
        {
            Forecast(line, at);
        }
        else
        {
            return false;
        }

        return true;
    }

    private void Look(ScriptLine line, Instant at)
    {
        const string form = "look at T1 , 3 up";
        var batch = draft.Batch(line, form);
        line.Need(",", form);
        batch.Looks.Add(new(at, line.Whole("number up", form, Up)));
        line.Need("up", form);
    }

    private static double Chance(ScriptLine line, string form) => line.Within(Bounds.Share, line.Quantity("percent", form) / 100);

    private void Forecast(ScriptLine line, Instant at)
    {
        const string form = "forecast T1 may be up 20   (or: forecast T1 is over 4 by cold spot)";
        var batch = draft.Batch(line, form);
        if (line.Take("may be up"))
        {
            batch.LookFrom = new(at, Chance(line, form));
        }
        else
        {
            line.Need("is over", form);
            batch.StopWaitingFrom = new(at, Chance(line, form)) { Why = line.Take("by") ? ScriptDraft.Why(line) : null };
        }
    }
}
