using Chamber.Core.Folding;

namespace Chamber.Core.Alerts.Conditions.FaultyProbe;

/// <summary>The same value to the last digit for far too long. A value: a copy goes its own way.</summary>
internal struct FlatLine
{
    private const int ReadingsMin = 48;
    private int count;

    public bool IsOpen { get; private set; }

    public Moment Since { get; private set; }

    /// <summary>Takes a temperature; returns what follows from it.</summary>
    public Transition Step(in TimedTemperature now, TimedTemperature? last, TimeSpan hold)
    {
        if (last is not { } before || now.Temperature != before.Temperature)
        {
            var wasOpen = IsOpen;
            (IsOpen, Since, count) = (false, now.At, 1);
            return wasOpen ? Transition.Closed : Transition.None;
        }

        count++;
        if (IsOpen || count < ReadingsMin || now.At - Since < hold)
        {
            return Transition.None;
        }

        IsOpen = true;
        return Transition.Opened;
    }
}
