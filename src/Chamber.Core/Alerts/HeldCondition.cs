namespace Chamber.Core.Alerts;

/// <summary>What a <see cref="HeldCondition"/> just did.</summary>
internal enum Turn
{
    None,
    Opened,
    Closed,
}

/// <summary>
/// A condition that opens when something is bad without a break for a hold time, and closes when it is good without a break
/// for another. Between the two limits (neither bad nor good) it stays as it is. Times are Unix ticks, so that
/// the instants of opening and closing follow from the readings alone and not from when the watch happened to be asked.
/// The default value is closed.
/// </summary>
internal struct HeldCondition
{
    private long badSince;
    private long goodSince;
    private bool pending;
    private bool clearing;

    /// <summary>Whether it holds.</summary>
    public bool IsOpen { get; private set; }

    /// <summary>Since when it is bad; meaningful while open.</summary>
    public readonly long Since => badSince;

    /// <summary>When it opened or closed last.</summary>
    public long TurnedAt { get; private set; }

    /// <summary>Lets time pass up to <paramref name="at"/>, during which the last value is known to have held.</summary>
    public Turn Advance(long at, long hold, long clear)
    {
        if (pending && at - badSince >= hold)
        {
            pending = false;
            IsOpen = true;
            TurnedAt = badSince + hold;
            return Turn.Opened;
        }

        if (clearing && at - goodSince >= clear)
        {
            clearing = false;
            IsOpen = false;
            TurnedAt = goodSince + clear;
            return Turn.Closed;
        }

        return Turn.None;
    }

    /// <summary>Takes in a value judged bad, good or neither. Let time pass up to it first.</summary>
    public Turn Judge(long at, bool bad, bool good, long hold, long clear)
    {
        if (IsOpen)
        {
            if (!good)
            {
                clearing = false;
            }
            else if (!clearing)
            {
                clearing = true;
                goodSince = at;
            }
        }
        else if (!bad)
        {
            pending = false;
        }
        else if (!pending)
        {
            pending = true;
            badSince = at;
        }

        return pending || clearing ? Advance(at, hold, clear) : Turn.None;
    }

    /// <summary>The value is not known from here on: what was pending is dropped, what is open stays.</summary>
    public void Lose()
    {
        pending = false;
        clearing = false;
    }
}
