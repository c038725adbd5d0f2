namespace Chamber.Core.Folding;

/// <summary>
/// What is usual on a spot by one probe at each hour of the day: a level and 24 hours' offsets, learnt over seven days. Then it follows the
/// seasons: the level by three tenths of the gap a day, the shape by a twentieth, neither by more than <see cref="Clip"/> at a time, so
/// that a shift is not learnt away before it is found. A value: a copy is independent.
/// </summary>
internal struct UsualDay
{
    /// <summary>Days of each hour before it is known.</summary>
    public const int LearningDays = 7;

    private const int Hours = Hours24<double>.Count;
    private const double Clip = 0.5;
    private const double LevelWeight = 0.3 / Hours;
    private const double ShapeWeight = 0.05;

    private Hours24<double> usual;
    private Hours24<int> days;
    private double level;

    /// <summary>A day of which nothing need be learnt: 0 at each hour, as residuals have.</summary>
    public static UsualDay OfResiduals()
    {
        var day = new UsualDay { IsMature = true };
        for (var hour = 0; hour < Hours; hour++)
        {
            day.days[hour] = LearningDays + 1;
        }

        return day;
    }

    /// <summary>Whether every hour of the day has been seen often enough.</summary>
    public bool IsMature { get; private set; }

    /// <summary>What is usual at an hour, °C; null before it was seen.</summary>
    public readonly double? At(int hourOfDay) => days[hourOfDay] == 0 ? null : usual[hourOfDay] + level;

    /// <summary>Learns an hour.</summary>
    /// <param name="hourOfDay">0 to 23.</param>
    /// <param name="celsius">Its mean.</param>
    /// <param name="follow">Whether a mature one may follow it; a shift that was reported is not learnt.</param>
    public void Learn(int hourOfDay, double celsius, bool follow)
    {
        if (days[hourOfDay]++ == 0)
        {
            usual[hourOfDay] = celsius - level;
            return;
        }

        var residual = celsius - usual[hourOfDay] - level;
        if (!IsMature)
        {
            usual[hourOfDay] += residual / days[hourOfDay];
            IsMature = Fewest() > LearningDays;
        }
        else if (follow)
        {
            var step = Math.Clamp(residual, -Clip, Clip);
            level += LevelWeight * step;
            usual[hourOfDay] += ShapeWeight * step;
        }
    }

    /// <summary>The level is another from now on.</summary>
    public void Move(double kelvins) => level += kelvins;

    private readonly int Fewest()
    {
        var fewest = days[0];
        for (var hour = 1; hour < Hours; hour++)
        {
            fewest = Math.Min(fewest, days[hour]);
        }

        return fewest;
    }
}
