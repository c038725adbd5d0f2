using Chamber.Core.Climate;
using Chamber.Core.Folding;

namespace Chamber.Core.Alerts.Fold;

/// <summary>A probe at a location: what it said last and what is held back. Temperatures are after its calibration.</summary>
internal sealed class StationState(Probe probe, bool isHandRead)
{
    // Apart from whether there is one: this is the hottest value of the fold, and a nullable of it is copied at each look.
    private TimedTemperature last;

    public ProbeId Id { get; } = probe.Id;

    public string Name { get; } = probe.Id.Text;

    public AlertSubject Subject { get; } = AlertSubject.Of(probe.Id);

    public Measurand Measurand { get; } = probe.Measurand;

    public bool IsHandRead { get; } = isHandRead;

    /// <summary>For so long a reading stands for what came after it.</summary>
    public TimeSpan MaxGap { get; } = TimeSpan.FromTicks(probe.MaxGap.BclCompatibleTicks);

    /// <summary>Better ones speak for the spot: media before outside before air.</summary>
    public int Rank { get; } = probe.Measurand switch { Measurand.Media => 0, Measurand.OutsideSurface => 1, _ => 2 };

    /// <summary>Its index among the probes here, by which conditions find their states.</summary>
    public int Index { get; set; }

    public TemperatureDifference Offset { get; private set; }

    public double HumidityPoints { get; private set; }

    public double? DryRaw { get; private set; }

    public double? SaturatedRaw { get; private set; }

    /// <summary>When it last said anything; the moment of its coming at first; null for one that has been here for ever and was never
    /// heard.</summary>
    public Moment? HeardAt { get; set; }

    /// <summary>Whether it has said anything here yet.</summary>
    public bool HasSpoken { get; set; }

    /// <summary>Up to where its readings were set aside; the beginning of time when none were.</summary>
    public Moment PassedOverUntil { get; set; } = Moment.Beginning;

    /// <summary>Whether it has said nothing for longer than it may.</summary>
    public bool IsSilent { get; set; }

    /// <summary>The last temperature that counts; null before the first.</summary>
    public TimedTemperature? Last => HasLast ? last : null;

    public bool HasLast { get; private set; }

    /// <summary>One that lies far off the last, held back until the next one bears it out.</summary>
    public TimedTemperature? Suspect { get; set; }

    public Moment? HumidityAt { get; set; }

    public double HumidityPercent { get; set; }

    public Moment? MoistureAt { get; set; }

    /// <summary>The end of the last whole hour, and its mean.</summary>
    public TimedTemperature? LastHour { get; set; }

    public LastDay LastDay;

    public HourMean Hour;

    /// <summary>Up to where its last temperature is known to have held; null while it has none.</summary>
    public Moment? KnownUntil => HasLast ? last.At + MaxGap : null;

    /// <summary>Up to where something is known that was said before: for as long as a reading stands, and no further than now.</summary>
    public Moment KnownFrom(Moment? before, Moment now) => before is { } at ? Moment.Earlier(now, at + MaxGap) : Moment.Beginning;

    /// <summary>Takes over a calibration; returns by how much the offset has changed.</summary>
    public TemperatureDifference Calibrate(ProbeCalibration calibration)
    {
        var change = calibration.Offset - Offset;
        Offset = calibration.Offset;
        HumidityPoints = calibration.HumidityPoints;
        DryRaw = calibration.DryRaw ?? DryRaw;
        SaturatedRaw = calibration.SaturatedRaw ?? SaturatedRaw;
        return change;
    }

    /// <summary>Whether its last temperature still stands for a moment.</summary>
    public bool IsFreshAt(Moment at) => HasLast && at - last.At <= MaxGap;

    /// <summary>The last temperature, if it still stands for a moment.</summary>
    public bool TryGetFresh(Moment at, out TimedTemperature fresh)
    {
        fresh = last;
        return IsFreshAt(at);
    }

    /// <summary>A temperature counts, and is the last one from now on.</summary>
    public void Count(in TimedTemperature now)
    {
        last = now;
        HasLast = true;
    }

    /// <summary>Whether a temperature lies further off the last than a number of K, within so short a time that it says something of
    /// it.</summary>
    public bool IsOffLast(in TimedTemperature now, double kelvins, TimeSpan span) =>
        HasLast && Math.Abs(now.Temperature.Celsius - last.Temperature.Celsius) > kelvins && now.At - last.At <= span;

    /// <summary>Whether the reading held back is borne out by the next one.</summary>
    public bool BearsOut(Temperature next) => Suspect is { } suspect && HasLast
        && Math.Abs(next.Celsius - suspect.Temperature.Celsius) < Math.Abs(next.Celsius - last.Temperature.Celsius);

    /// <summary>A copy that is independent: everything in it is a value or does not change.</summary>
    public StationState Copy() => (StationState)MemberwiseClone();
}
