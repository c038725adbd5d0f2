namespace Chamber.Core.Diagnosis;

/// <summary>Seed, spot, water, or me? The one answer for a batch, which review, season, alert, forecast and page give alike.
/// Pure.</summary>
/// <param name="Phase">How far the batch has come.</param>
/// <param name="Cause">The cause that explains most.</param>
/// <param name="Evidence">Every cause that has evidence, in the order of <see cref="CauseKind"/>; the one that explains most is among them
/// or left over.</param>
/// <param name="Loss">What the batch loses, taken apart.</param>
/// <param name="Sentence">The answer in one sentence with the number that decides it.</param>
/// <param name="Advice">What to do now; empty when nothing.</param>
/// <param name="NextTime">What to do differently next time; empty when nothing.</param>
public sealed record BatchDiagnosis(
    BatchPhase Phase,
    Cause Cause,
    IReadOnlyList<Cause> Evidence,
    LossAccount Loss,
    string Sentence,
    string Advice,
    string NextTime)
{
    /// <summary>As few as this or fewer would come up in one of ten such batches: then there is something to explain.</summary>
    private const double FewChance = 0.1;

    /// <summary>Fewer than half of so many seeds is few, whatever was believed of the lot.</summary>
    private const int SeedsToJudge = 4;

    /// <summary>A batch that stands at this share of what its lot is good for has nothing to explain.</summary>
    private const double AsExpected = 0.85;

    /// <summary>Whose doing it was.</summary>
    public Blame Blame => Cause.Blame;

    /// <summary>The diagnosis of a batch.</summary>
    public static BatchDiagnosis Of(BatchCase known)
    {
        ArgumentNullException.ThrowIfNull(known);
        Cause[] evidence = [.. CauseOrder.OfSpot(known), .. CauseOrder.OfSeed(known)];
        var cause = known.Phase switch
        {
            BatchPhase.Waiting => WhileWaiting(known, evidence),
            BatchPhase.Unseen => new NotLooked(known.UnseenDays, known.WasSeen),
            _ => WhenOver(known, evidence),
        };
        var loss = LossAccount.Of(known, OfTemperature(known, evidence), OfRest(cause));
        return new(known.Phase, cause, evidence, loss, DiagnosisWords.Sentence(known, cause), DiagnosisWords.Advice(cause, known.Phase),
            DiagnosisWords.NextTime(cause));
    }

    private static Cause WhileWaiting(BatchCase known, IReadOnlyList<Cause> evidence)
    {
        if (CauseOrder.AfterUp(known) is { } after)
        {
            return after;
        }

        if (known.Count.Up == known.Count.Seeds)
        {
            return new AllUp();
        }

        if (known.Ahead is null && known.Hours.MeasuredHours <= 0)
        {
            return new NotMeasured(1);
        }

        if (known.Count.Up >= AsExpected * known.Lot.Mean * known.Count.Seeds)
        {
            return new NotYet();
        }

        var late = known.Count.Up == 0 && CauseOrder.IsLate(known);
        return evidence.FirstOrDefault(one =>
                one is TooHot or Unsteady or Mouldy or TooWet or DriedOut or WrongLight or NotChilled or TooCold)
            ?? (late ? WhyLate(evidence) : evidence.FirstOrDefault(one => one is WeakLot) ?? new NotYet());
    }

    private static Cause WhenOver(BatchCase known, IReadOnlyList<Cause> evidence)
    {
        if (IsFew(known))
        {
            return WhyFew(known, evidence);
        }

        return CauseOrder.IsLate(known)
            ? WhyLate(evidence)
            : CauseOrder.AfterUp(known)
                ?? (known.Count.Up == known.Count.Seeds && known.Phase == BatchPhase.Due ? new AllUp() : new WentWell());
    }

    /// <summary>Whether so few came up that the lot, as believed for a fresh start at its best temperature, does not explain it.</summary>
    private static bool IsFew(BatchCase known) =>
        1 - known.Lot.ChanceOfAtLeast(known.Count.Up + 1, known.Count.Seeds) < FewChance
        || (known.Count.Share < 0.5 && known.Count.Seeds >= SeedsToJudge);

    private static Cause WhyLate(IReadOnlyList<Cause> evidence) =>
        evidence.FirstOrDefault(one => one is TooHot or Unsteady or TooCold or NotMeasured or OldSeed) ?? new Late();

    /// <summary>What explains most: the seed, the temperatures, or, where neither explains it, the first cause that has evidence.</summary>
    private static Cause WhyFew(BatchCase known, IReadOnlyList<Cause> evidence)
    {
        var parts = LossAccount.Of(known, LossKind.Heat, LossKind.Unknown);
        var (seed, temperature, rest) = (parts.To(LossKind.Seed), parts.To(LossKind.Heat), parts.To(LossKind.Unknown));
        if (temperature > seed && temperature >= rest)
        {
            return CauseOrder.OfStand(known);
        }

        if (seed > rest && evidence.FirstOrDefault(one => one is WeakLot or OldSeed or UntestedLot) is { } ofSeed)
        {
            return ofSeed;
        }

        // While it may still be dug up, a seed in the hand says more than what is not known of the lot.
        var likely = evidence.Count > 0 ? evidence[0] : new SownWrong();
        return known.Phase == BatchPhase.Due && likely is UntestedLot or TreatedSeed or SownWrong ? new Late() : likely;
    }

    private static LossKind OfTemperature(BatchCase known, IReadOnlyList<Cause> evidence) =>
        evidence.FirstOrDefault(one => one is TooHot or Unsteady or TooCold) switch
        {
            Unsteady => LossKind.Swings,
            TooHot => LossKind.Heat,
            TooCold => LossKind.Cold,
            _ => known.Hours.HoursAbove >= known.Hours.HoursBelow ? LossKind.Heat : LossKind.Cold,
        };

    private static LossKind OfRest(Cause cause) => cause switch
    {
        Mouldy or TooWet or DriedOut => LossKind.Water,
        WrongLight => LossKind.Light,
        NotChilled => LossKind.Chill,
        TooHot => LossKind.Heat,
        Unsteady => LossKind.Swings,
        TooCold => LossKind.Cold,
        WeakLot or OldSeed or UntestedLot => LossKind.Seed,
        _ => LossKind.Unknown,
    };
}
