using System.Globalization;
using Chamber.Core.Climate;
using Chamber.Core.Crops;

namespace Chamber.Core.Seeds;

/// <summary>What a batch went through, as far as its probe could see.</summary>
/// <param name="HoursBelow">Measured hours below the crop's cool limit.</param>
/// <param name="HoursAbove">Measured hours above its hot limit.</param>
/// <param name="MeasuredHours">Hours with readings.</param>
/// <param name="UnknownHours">Hours that nothing was known of.</param>
public sealed record HoursSeen(double HoursBelow, double HoursAbove, double MeasuredHours, double UnknownHours);

/// <summary>Whether a test says something about the seed, or about the spot.</summary>
public enum Fairness
{
    Fair,
    TooHot,
    TooCool,

    /// <summary>Too little was measured to tell.</summary>
    Unknown,
}

/// <summary>Judges whether conditions were fair to seed under test.</summary>
/// <param name="Verdict">The judgement.</param>
/// <param name="Because">A sentence with the hours.</param>
public sealed record FairTest(Fairness Verdict, string Because)
{
    /// <summary>Half a day above the hot limit can send seed into a heat dormancy that cooling does not end (lettuce, celery: UF/IFAS plant
    /// propagation). The number is common practice, no source.</summary>
    private const double HotHoursMax = 6;

    /// <summary>More than a third of the time too cool only slows most seed, but then a short test calls slow seed dead. Common practice,
    /// no source.</summary>
    private const double CoolShareMax = 1.0 / 3;

    /// <summary>Less than half of the time measured is too little to tell.</summary>
    private const double MeasuredShareMin = 0.5;

    /// <summary>Whether a low count may be held against the seed.</summary>
    public bool MayBlameSeed => Verdict == Fairness.Fair;

    public static FairTest Judge(Crop crop, HoursSeen seen, TemperatureScale scale = default)
    {
        ArgumentNullException.ThrowIfNull(crop);
        ArgumentNullException.ThrowIfNull(seen);
        var name = crop.CommonName;
        if (seen.HoursAbove > HotHoursMax)
        {
            return new(Fairness.TooHot, $"{Hours(seen.HoursAbove)} above {scale.Show(crop.HotLimit)}: not a fair test for {name}.");
        }

        if (seen.MeasuredHours < MeasuredShareMin * (seen.MeasuredHours + seen.UnknownHours) || seen.MeasuredHours <= 0)
        {
            return new(Fairness.Unknown, $"Only {Hours(seen.MeasuredHours)} of {Hours(seen.MeasuredHours + seen.UnknownHours)} were "
                + $"measured: nobody can say whether it was fair to {name}.");
        }

        return seen.HoursBelow > CoolShareMax * seen.MeasuredHours
            ? new(Fairness.TooCool, $"{Hours(seen.HoursBelow)} of {Hours(seen.MeasuredHours)} below {scale.Show(crop.CoolLimit)}: {name} "
                + $"may only be slow; wait longer before you call it dead.")
            : new(Fairness.Fair, $"{Hours(seen.HoursAbove)} above {scale.Show(crop.HotLimit)} and {Hours(seen.HoursBelow)} below "
                + $"{scale.Show(crop.CoolLimit)}: fair to {name}.");
    }

    private static string Hours(double hours) => string.Create(CultureInfo.InvariantCulture, $"{hours:0} h");
}
