using Chamber.Core;
using Chamber.Core.Facts;
using Chamber.Core.Facts.Homes;
using NodaTime;

namespace Chamber.Storage.Writing;

/// <summary>
/// Who writes something down in a home, by which way, and when. It rests on the seam alone, and writes in a store that is at hand, or in
/// a draft for any store (<see cref="HomeDraft"/>).
/// </summary>
/// <remarks>Every method that writes throws <see cref="RefusedException"/> when it cannot be true beside what is known, and
/// <see cref="FactConflictException"/> when others write all the time; then nothing was written.</remarks>
public sealed class HomePen
{
    private readonly IHomeStore store;
    private readonly IHomeRecords records;
    private readonly Author by;
    private readonly Func<Instant> clock;

    /// <param name="store">Where: a draft, or a store that is at hand.</param>
    /// <param name="records">What is kept beside: which alert is meant by a number.</param>
    /// <param name="by">Who, and by which way.</param>
    /// <param name="clock">The time at which it is written down.</param>
    public HomePen(IHomeStore store, IHomeRecords records, Author by, Func<Instant> clock)
    {
        ArgumentNullException.ThrowIfNull(store);
        if (store is not HomeDraft && !store.IsAtHand)
        {
            throw new InvalidOperationException("A store that lies further away is written in by a draft.");
        }

        (this.store, this.records, this.by, this.clock) = (store, records, by, clock);
        (SetUp, Seeds, Batches, Crops, Alerts) = (new(this, store), new(this), new(this), new(this), new(this, records));
    }

    /// <summary>The same for somebody else.</summary>
    /// <param name="author">Who, and by which way.</param>
    /// <param name="now">When.</param>
    public HomePen By(Author author, Instant now) => new(store, records, author, () => now);

    /// <summary>Probes, spots, stations, calibrations.</summary>
    public SetUpLedger SetUp { get; }

    /// <summary>Lots and their tests.</summary>
    public SeedLedger Seeds { get; }

    /// <summary>Batches with their stays, looks, stages, losses and wettings.</summary>
    public BatchLedger Batches { get; }

    /// <summary>Crops that the user has added or changed.</summary>
    public CropLedger Crops { get; }

    /// <summary>What people do about alerts, and the times in which they work on a spot.</summary>
    public AlertActs Alerts { get; }

    /// <summary>The home as it is known.</summary>
    public HomeState Home => AtHand.Of(store.HomeAsync()).Home;

    internal Instant Now => clock();

    /// <summary>Writes facts down in one act: all of them, or none.</summary>
    /// <param name="facts">In an order in which each can stand after the one before.</param>
    public IReadOnlyList<FactEntry> Write(params IReadOnlyList<DatedFact> facts) => store.Append(by, Now, facts);

    /// <summary>The same where they follow from what is known.</summary>
    public IReadOnlyList<FactEntry> Write(Func<HomeState, IReadOnlyList<DatedFact>> ask) => AtHand.Of(store.WriteAsync(by, Now, ask));

    /// <summary>Writes down what follows from all that was written before.</summary>
    public IReadOnlyList<FactEntry> Amend(Func<FactLog, IReadOnlyList<DatedFact>> amend) => AtHand.Of(store.AmendAsync(by, Now, amend));

    /// <summary>What a person chose; null takes it back to what is usual.</summary>
    public void Choose(string name, string? value) =>
        Write(home => home.Settings.GetValueOrDefault(name) == value ? [] : [new SettingChosen(name, value).At(Now)]);

    /// <summary>Takes an entry back that still counts.</summary>
    /// <param name="about">What it is about.</param>
    /// <param name="which">Which one of those.</param>
    /// <param name="unknown">What to say when there is none.</param>
    internal void Withdraw(FactSubject about, Func<DatedFact, bool> which, DatedText unknown) => Amend(log =>
        log.About(about).LastOrDefault(entry => !log.TakenBack.Contains(entry.Number) && which(log.RightOf(entry))) is { } found
            ? [new Withdrawn(found.Number).At(Now)]
            : throw new FactRefusedException(unknown));

    /// <summary>Takes every entry back that still counts, the latest first.</summary>
    /// <param name="about">What they are about.</param>
    /// <param name="which">Which of those.</param>
    /// <param name="unknown">What to say when there is none.</param>
    internal void WithdrawEach(FactSubject about, Func<DatedFact, bool> which, DatedText unknown) => Amend(log =>
        log.About(about).Where(entry => !log.TakenBack.Contains(entry.Number) && which(log.RightOf(entry))).Reverse().ToList() is
            { Count: > 0 } found
            ? [.. found.Select(entry => new Withdrawn(entry.Number).At(Now))]
            : throw new FactRefusedException(unknown));

    /// <summary>Takes back all that was written down of something.</summary>
    internal void WithdrawAll(FactSubject about) => Amend(log => log.RemovalOf(about) is { Count: > 0 } removal
        ? [.. removal.Select(fact => fact.At(Now))]
        : throw new FactRefusedException(new($"There is no {about.Kind.ToString().ToLowerInvariant()} \"{about}\".")));
}
