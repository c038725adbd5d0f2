using Chamber.Core.Facts;
using NodaTime;

namespace Chamber.Storage;

/// <summary>Who writes, by which way, and when: what stands beside each fact.</summary>
/// <param name="Book">Where.</param>
/// <param name="By">Who, and by which way.</param>
/// <param name="Clock">The time at which it is written down.</param>
internal sealed record Pen(FactBook Book, Author By, Func<Instant> Clock)
{
    public Instant Now => Clock();

    public void Write(params IReadOnlyList<DatedFact> facts) => Book.Append(By, Now, facts);

    /// <summary>Takes an entry back that still counts.</summary>
    /// <param name="about">What it is about.</param>
    /// <param name="which">Which one of those.</param>
    /// <param name="unknown">What to say when there is none.</param>
    public void Withdraw(FactSubject about, Func<DatedFact, bool> which, Core.DatedText unknown) => Book.Amend(By, Now, log =>
        log.About(about).LastOrDefault(entry => !log.TakenBack.Contains(entry.Number) && which(log.RightOf(entry))) is { } found
            ? [new Withdrawn(found.Number).At(Now)]
            : throw new FactRefusedException(unknown));

    /// <summary>Takes every entry back that still counts, the latest first.</summary>
    /// <param name="about">What they are about.</param>
    /// <param name="which">Which of those.</param>
    /// <param name="unknown">What to say when there is none.</param>
    public void WithdrawEach(FactSubject about, Func<DatedFact, bool> which, Core.DatedText unknown) => Book.Amend(By, Now, log =>
        log.About(about).Where(entry => !log.TakenBack.Contains(entry.Number) && which(log.RightOf(entry))).Reverse().ToList() is
            { Count: > 0 } found
            ? [.. found.Select(entry => new Withdrawn(entry.Number).At(Now))]
            : throw new FactRefusedException(unknown));

    /// <summary>Takes back all that was written down of something.</summary>
    public void WithdrawAll(FactSubject about) => Book.Amend(By, Now, log => log.RemovalOf(about) is { Count: > 0 } removal
        ? [.. removal.Select(fact => fact.At(Now))]
        : throw new FactRefusedException(new($"There is no {about.Kind.ToString().ToLowerInvariant()} \"{about}\".")));
}
