namespace Chamber.Core.Alerts;

/// <summary>Two probes of one measurand on one spot: how far apart they usually are.</summary>
internal sealed class PairState(string first, string second)
{
    private const int LearningHours = 48;
    private const double Weight = 0.02;

    public HeldCondition Apart;
    private int hours;

    public string First { get; } = first;

    public string Second { get; } = second;

    public string Holder { get; } = $"{first} {second}";

    /// <summary>The usual difference, first less second, K.</summary>
    public double Usual { get; private set; }

    /// <summary>How far the last hour lay from it, K.</summary>
    public double Change { get; private set; }

    public long LastHour { get; set; }

    public bool IsMature => hours > LearningHours;

    public void Add(double difference)
    {
        hours++;
        Change = difference - Usual;
        if (hours <= LearningHours)
        {
            Usual += Change / hours;
        }
        else if (!Apart.IsOpen)
        {
            Usual += Weight * Math.Clamp(Change, -0.5, 0.5);
        }
    }

    /// <summary>One of the two was given another offset.</summary>
    public void Move(string probe, double kelvins) => Usual += probe == First ? kelvins : probe == Second ? -kelvins : 0;

    public PairState Copy() => (PairState)MemberwiseClone();
}
