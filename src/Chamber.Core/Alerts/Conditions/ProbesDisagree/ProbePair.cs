using Chamber.Core.Climate;
using Chamber.Core.Folding;

namespace Chamber.Core.Alerts.Conditions.ProbesDisagree;

/// <summary>Two probes of one measurand on one spot: how far apart they usually are. Learnt over two days, then followed slowly while they
/// agree. A value: a copy is independent.</summary>
/// <param name="First">The probe whose name comes first.</param>
/// <param name="Second">The other one.</param>
internal record struct ProbePair(ProbeId First, ProbeId Second)
{
    private const int LearningHours = 48;
    private const double Weight = 0.02;
    private const double StepMax = 0.5;
    private static readonly TimeSpan Gap = TimeSpan.FromHours(2);

    private HeldCondition held;
    private Moment lastHour;
    private double usual;
    private int hours;

    public readonly string Holder => $"{First} {Second}";

    public readonly HeldCondition Held => held;

    /// <summary>How far the last hour lay from the usual difference, K.</summary>
    public double Change { get; private set; }

    /// <summary>The rule: takes an hour of both, first less second in K.</summary>
    public Transition Step(Moment end, double difference, ProbesDisagreeLimits limits)
    {
        if (end - lastHour > Gap)
        {
            held.Lose();
        }

        lastHour = end;
        Learn(difference);
        if (hours <= LearningHours)
        {
            return Transition.None;
        }

        var apart = Math.Abs(Change);
        return held.Judge(end, apart > limits.Kelvins, apart < limits.Kelvins / 2, limits.HoldTime, limits.HoldTime);
    }

    /// <summary>One of the two was given another offset.</summary>
    public void Move(ProbeId probe, double kelvins) => usual += probe == First ? kelvins : probe == Second ? -kelvins : 0;

    private void Learn(double difference)
    {
        hours++;
        Change = difference - usual;
        if (hours <= LearningHours)
        {
            usual += Change / hours;
        }
        else if (!held.IsOpen)
        {
            usual += Weight * Math.Clamp(Change, -StepMax, StepMax);
        }
    }
}
