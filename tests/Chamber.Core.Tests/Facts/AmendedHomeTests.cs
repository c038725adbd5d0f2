using Chamber.Core.Facts;
using Chamber.Testing;

namespace Chamber.Core.Tests.Facts;

/// <summary>A home whose owner slips and puts it right is the home of one who never slipped. Homes are drawn from a seed.</summary>
public sealed class AmendedHomeTests
{
    private static readonly Author Ana = new("Ana", WriteWay.CommandLine);

    public static TheoryData<int> Seeds => [.. Enumerable.Range(1, 12)];

    [Theory]
    [MemberData(nameof(Seeds))]
    public void Correcting_equals_never_having_erred(int seed)
    {
        var random = new Random(seed);
        var home = new SomeHome(random);
        var (truth, erring) = (FactLog.Of([]), new Erring(random, home));
        var written = 0;
        for (var tries = 0; tries < 300; tries++)
        {
            var fact = home.Next();
            if (With(truth, [fact]) is { } next)
            {
                truth = next;
                erring.Write(fact);
                written++;
            }
        }

        erring.PutRight();
        Assert.InRange(written, 30, 300);
        Assert.True(erring.Slips > 10, $"{erring.Slips} slips");
        Assert.Empty(erring.Log.LeftOut);
        Assert.Equal(HomeText.Of(truth.Home), HomeText.Of(erring.Log.Home));
    }

    [Theory]
    [MemberData(nameof(Seeds))]
    public void Taking_back_act_by_act_leads_to_where_it_began(int seed)
    {
        var home = new SomeHome(new(seed));
        var log = FactLog.Of([]);
        List<string> before = [];
        for (var tries = 0; tries < 80; tries++)
        {
            if (With(log, [home.Next()]) is { } next)
            {
                before.Add(HomeText.Of(log.Home));
                log = next;
            }
        }

        foreach (var earlier in Enumerable.Reverse(before))
        {
            log = With(log, [.. log.UndoOf(by => by == Ana).Select(fact => fact.At(SomeHome.Start))])!;
            Assert.Equal(earlier, HomeText.Of(log.Home));
        }

        Assert.Equal("There is nothing to take back.", Assert.Throws<FactRefusedException>(() => log.UndoOf(by => by == Ana)).Message);
    }

    [Theory]
    [MemberData(nameof(Seeds))]
    public void Folding_one_by_one_equals_folding_all(int seed)
    {
        var home = new SomeHome(new(seed));
        var (log, state) = (FactLog.Of([]), HomeState.Empty);
        for (var tries = 0; tries < 200; tries++)
        {
            var fact = home.Next();
            if (With(log, [fact]) is { } next)
            {
                log = next;
                state = state.Apply(fact);
            }
        }

        Assert.Equal(HomeText.Of(log.Home), HomeText.Of(state));
        Assert.Equal(HomeText.Of(log.Home), HomeText.Of(FactLog.Of(log.Entries).Home));
    }

    // Null when it is refused.
    internal static FactLog? With(FactLog log, IReadOnlyList<DatedFact> facts)
    {
        var first = log.Entries.Count + 1;
        try
        {
            return log.With([.. facts.Select((fact, i) => new FactEntry(first + i, first, fact.Fact, fact.At, fact.At, Ana))]);
        }
        catch (RefusedException)
        {
            return null;
        }
    }

    /// <summary>Somebody who writes down what another does, with slips, and puts them right some time later.</summary>
    private sealed class Erring(Random random, SomeHome home)
    {
        private readonly List<DatedFact> pending = [];

        public FactLog Log { get; private set; } = FactLog.Of([]);

        public int Slips { get; private set; }

        public void Write(DatedFact right)
        {
            if (random.Next(8) == 0 && With(Log, [home.Slip(right)]) is { } invented)
            {
                // What never happened.
                Log = invented;
                pending.Add(new Withdrawn(Log.Entries[^1].Number).At(right.At));
                Slips++;
            }

            if (random.Next(3) == 0 && With(Log, [home.Slip(right)]) is { } wrong)
            {
                Log = wrong;
                pending.Add(new Corrected(Log.Entries[^1].Number, right.Fact).At(right.At));
                Slips++;
            }
            else if (With(Log, [right]) is { } next)
            {
                Log = next;
            }
            else
            {
                PutRight();
                Log = With(Log, [right]) ?? throw new InvalidOperationException($"{right} is refused though all is right.");
            }

            if (random.Next(6) == 0)
            {
                PutRight();
            }
        }

        public void PutRight()
        {
            if (pending.Count > 0)
            {
                Log = With(Log, pending) ?? throw new InvalidOperationException("What puts all right is refused.");
                pending.Clear();
            }
        }
    }
}
