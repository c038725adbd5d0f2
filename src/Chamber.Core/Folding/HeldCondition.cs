namespace Chamber.Core.Folding;

/// <summary>What a <see cref="HeldCondition"/> just did.</summary>
internal enum Transition
{
    None,
    Opened,
    Closed,
}

/// <summary>
/// A condition that opens when something is bad without a break for a hold time, and closes when it is good without a break
/// for another. Between the two thresholds (neither bad nor good) it stays as it is, so that
/// the instants of opening and closing follow from the readings alone and not from when the watch happened to be asked.
/// A value: a copy of it is independent. The default value is closed.
/// </summary>
internal struct HeldCondition
{
    private Moment badSince;
    private Moment goodSince;
    private bool isPending;
    private bool isClearing;

    /// <summary>Whether it holds.</summary>
    public bool IsOpen { get; private set; }

    /// <summary>Since when it is bad; meaningful while open.</summary>
    public readonly Moment Since => badSince;

    /// <summary>When it opened or closed last.</summary>
    public Moment ChangedAt { get; private set; }

    /// <summary>Whether it does not hold, and nothing bad is waiting to be held for long enough: a value that is not bad changes
    /// nothing.</summary>
    public readonly bool IsAtRest => !IsOpen && !isPending;

    /// <summary>Lets time pass up to <paramref name="at"/>, during which the last value is known to have held.</summary>
    public Transition Advance(Moment at, TimeSpan hold, TimeSpan clear) =>
        isPending || isClearing ? Pass(at, hold, clear) : Transition.None;

    /// <summary>Takes in a value judged bad, good or neither. Let time pass up to it first.</summary>
    public Transition Judge(Moment at, bool isBad, bool isGood, TimeSpan hold, TimeSpan clear) =>
        isBad || !IsAtRest ? Take(at, isBad, isGood, hold, clear) : Transition.None;

    /// <summary>Lets time pass to where the value is known to have held; after a gap it is not known from there on.</summary>
    public Transition PassTo(Moment known, bool isGap, TimeSpan hold, TimeSpan clear)
    {
        var transition = Advance(known, hold, clear);
        if (isGap)
        {
            Lose();
        }

        return transition;
    }

    /// <summary>The value is not known from here on: what was pending is dropped, what is open stays.</summary>
    public void Lose()
    {
        isPending = false;
        isClearing = false;
    }

    private Transition Pass(Moment at, TimeSpan hold, TimeSpan clear)
    {
        if (isPending && at - badSince >= hold)
        {
            isPending = false;
            IsOpen = true;
            ChangedAt = badSince + hold;
            return Transition.Opened;
        }

        if (isClearing && at - goodSince >= clear)
        {
            isClearing = false;
            IsOpen = false;
            ChangedAt = goodSince + clear;
            return Transition.Closed;
        }

        return Transition.None;
    }

    private Transition Take(Moment at, bool isBad, bool isGood, TimeSpan hold, TimeSpan clear)
    {
        if (IsOpen)
        {
            if (!isGood)
            {
                isClearing = false;
            }
            else if (!isClearing)
            {
                isClearing = true;
                goodSince = at;
            }
        }
        else if (!isBad)
        {
            isPending = false;
        }
        else if (!isPending)
        {
            isPending = true;
            badSince = at;
        }

        return Advance(at, hold, clear);
    }
}
