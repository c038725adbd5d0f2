using NodaTime;

namespace Chamber.Service.Tests.Faults;

/// <summary>Draws what goes wrong next, and when it is over.</summary>
internal sealed class SoakFaults(SoakHome home, Random random)
{
    // So often in a thousand steps of ten minutes, each.
    private const int InThousand = 6;
    private const int LengthMax = 60;

    // One channel in six stays away so many times as long: long enough for notices to be given up.
    private const int LongFrom = 50;
    private const int LongTimes = 8;

    private readonly int[] drawn = new int[6];
    private readonly List<Instant> putBack = [];
    private int brokerBack;
    private int channelBack;
    private int diskBack;
    private Duration wrong = Duration.Zero;
    private Duration? neverSet;

    /// <summary>When the clock was put back, in the time that it was.</summary>
    public IReadOnlyList<Instant> PutBack => putBack;

    public void Draw()
    {
        if (Now(0))
        {
            (home.BrokerIsThere, brokerBack) = (false, random.Next(1, LengthMax));
        }

        if (Now(1))
        {
            var length = random.Next(1, LengthMax);
            (home.ChannelIsThere, channelBack) = (false, length < LongFrom ? length : length * LongTimes);
        }

        if (Now(2))
        {
            home.Kill(home.DiskIsFull);
        }

        if (Now(3) && home.SilentDamage() is { } lost)
        {
            Assert.Fail($"A cut log lost {lost}, and nothing is said.");
        }

        if (Now(4) && !home.DiskIsFull)
        {
            home.Kill(diskIsFull: true);
            diskBack = random.Next(1, LengthMax);
        }

        if (Now(5))
        {
            SetWrong();
        }

        Pass();
    }

    /// <summary>Everything is well again.</summary>
    public void End()
    {
        (home.BrokerIsThere, home.ChannelIsThere) = (true, true);
        if (home.DiskIsFull)
        {
            home.Kill();
        }

        SetRight();
    }

    public override string ToString() => $"{drawn[0]} times without broker, {drawn[1]} without channel, {drawn[2]} kills, "
        + $"{drawn[3]} cut logs, {drawn[4]} full disks, {drawn[5]} wrong clocks";

    private bool Now(int kind)
    {
        var isNow = random.Next(1000) < InThousand;
        drawn[kind] += isNow ? 1 : 0;
        return isNow;
    }

    // Up to a day either way, or one that was never set; the next draw puts it right.
    private void SetWrong()
    {
        if (wrong != Duration.Zero || neverSet is not null)
        {
            SetRight();
            return;
        }

        if (random.Next(3) == 0)
        {
            neverSet = home.Machine.Time - Instant.FromUnixTimeSeconds(0);
            Set(-neverSet.Value);
            return;
        }

        wrong = Duration.FromMinutes(random.Next(-600, 600));
        Set(wrong);
    }

    private void SetRight()
    {
        if (wrong == Duration.Zero && neverSet is null)
        {
            return;
        }

        Set((neverSet ?? Duration.Zero) - wrong);
        (wrong, neverSet) = (Duration.Zero, null);
    }

    private void Set(Duration by)
    {
        if (by < Duration.Zero)
        {
            putBack.Add(home.TrueTime);
        }

        home.SetClock(by);
    }

    private void Pass()
    {
        home.BrokerIsThere |= --brokerBack <= 0;
        home.ChannelIsThere |= --channelBack <= 0;
        if (home.DiskIsFull && --diskBack <= 0)
        {
            home.Kill();
        }
    }
}
