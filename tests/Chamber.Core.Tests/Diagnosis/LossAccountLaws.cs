using Chamber.Core.Batches;
using Chamber.Core.Diagnosis;
using FsCheck.Xunit;

namespace Chamber.Core.Tests.Diagnosis;

/// <summary>Losses are taken apart, never doubled: whatever a batch went through, their parts add up to what is missing, and never to more
/// than it.</summary>
public class LossAccountLaws
{
    [Property(MaxTest = 2000)]
    public void The_parts_add_up_to_what_is_missing_and_never_to_more_than_the_batch(byte sown, byte up, byte good, byte stand, byte lost,
        byte water, byte phase, byte hot, byte cold, bool tested)
    {
        var seeds = 1 + sown % 60;
        var count = up % (seeds + 1);
        var known = BatchDiagnosisTests.Good with
        {
            Count = new(count, seeds),
            Lot = new(0.5 + good / 10.0, 0.5 + (255 - good) / 10.0),
            StandShare = stand / 255.0,
            Hours = new(cold, hot, cold + hot + 20, hot / 2.0),
            Water = (WaterTrouble)(water % 4),
            Phase = (BatchPhase)(phase % 4),
            ExpectedUp = phase % 2 == 0 ? null : Math.Min(seeds, count + lost % 7),
            LotTested = tested,
            Losses = count > 0 && lost % 3 == 0 ? [new(Some.Day(9), 1 + lost % count, LossCause.Heat)] : [],
        };
        var loss = BatchDiagnosis.Of(known).Loss;

        Assert.InRange(loss.Seeds, 0, seeds + 1e-9);
        Assert.All(loss.Parts, part => Assert.True(part.Seeds > 0));
        Assert.Equal(loss.Parts.Count, loss.Parts.Select(part => part.Kind).Distinct().Count());
        if (known.IsOver)
        {
            Assert.Equal(seeds - count + known.LostAfter, loss.Seeds, 0.2);
        }
    }

    [Fact]
    public void In_words_the_parts_add_up_too() => Assert.Equal(
        "10 of 16: 5 to heat, 3 after coming up, 2 to the seed itself",
        DiagnosisWords.Of(new(16, [new(LossKind.Heat, 4.6), new(LossKind.AfterUp, 3), new(LossKind.Seed, 2.4)])));

    [Fact]
    public void Where_nothing_is_lost_nothing_is_said() => Assert.Null(DiagnosisWords.Of(new(16, [])));
}
