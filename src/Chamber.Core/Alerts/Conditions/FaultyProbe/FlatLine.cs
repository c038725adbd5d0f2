using Chamber.Core.Climate;
using Chamber.Core.Folding;

namespace Chamber.Core.Alerts.Conditions.FaultyProbe;

/// <summary>The same value to the last digit for far too long. A value: a copy is independent.</summary>
internal struct FlatLine
{
    private const int ReadingsMin = 48;
    private Temperature temperature;
    private int count;

    public bool IsOpen { get; private set; }

    public Moment Since { get; private set; }

    /// <summary>Takes a temperature; returns what follows from it.</summary>
    public Transition Step(in TimedTemperature now, TimeSpan hold)
    {
        if (count == 0 || now.Temperature != temperature)
        {
            var wasOpen = IsOpen;
            (IsOpen, Since, count, temperature) = (false, now.At, 1, now.Temperature);
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
