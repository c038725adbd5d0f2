using Chamber.Core.Climate;

namespace Chamber.Core.Alerts;

/// <summary>A probe at a place: what it said last and what is held back. Temperatures are after its offset.</summary>
internal sealed class StationState(ProbeTerms terms)
{
    public HeldCondition Hazard;
    public HeldCondition Wet;
    public HeldCondition Dry;
    public HeldCondition Saturated;
    public HeldCondition LidTight;
    public HeldCondition LidLeaks;
    public HeldCondition Battery;
    public HourMean Hours;
    public FaultTimes Spikes;
    public FaultTimes Rates;

    public ProbeId Id { get; } = terms.Probe.Id;

    public string Name { get; } = terms.Probe.Id.Text;

    public Measurand Measurand { get; } = terms.Probe.Measurand;

    public bool HandRead { get; } = terms.HandRead;

    public long MaxGap { get; } = terms.Probe.MaxGap.BclCompatibleTicks;

    /// <summary>Better ones speak for the spot: media before outside before air.</summary>
    public int Rank { get; } = terms.Probe.Measurand switch { Measurand.Media => 0, Measurand.OutsideSurface => 1, _ => 2 };

    public double OffsetKelvins { get; set; }

    public double HumidityPoints { get; set; }

    public double? DryRaw { get; set; }

    public double? SaturatedRaw { get; set; }

    /// <summary>When it last said anything; the instant of its coming at first.</summary>
    public long HeardAt { get; set; }

    /// <summary>Whether it has said anything here yet.</summary>
    public bool HasSpoken { get; set; }

    public long LastAt { get; set; } = long.MinValue;

    public double LastCelsius { get; set; }

    public bool HasLast => LastAt != long.MinValue;

    public bool HasSuspect { get; private set; }

    public long SuspectAt { get; private set; }

    public double SuspectCelsius { get; private set; }

    public bool IsSilent { get; set; }

    /// <summary>Whether the hazard was opened by the reading now held back.</summary>
    public bool HazardBySuspect { get; set; }

    /// <summary>The end of the last whole hour, and its mean.</summary>
    public long HourEnd { get; set; }

    public double HourMean { get; set; }

    /// <summary>What is usual here, to tell which of two probes has moved.</summary>
    public UsualDay Usual { get; private set; } = new();

    /// <summary>How far the last hours lay off that, K.</summary>
    public RecentHours Off { get; private set; } = new();

    public LastDay LastDay { get; private set; } = new();

    public long MoistureAt { get; set; }

    public long HumidityAt { get; set; }

    public double HumidityPercent { get; set; }

    public bool IsFlat { get; set; }

    public long FlatSince { get; set; }

    public int FlatCount { get; set; }

    /// <summary>Takes over a calibration; returns by how much the offset has changed, K.</summary>
    public double Calibrate(ProbeCalibration calibration)
    {
        var change = calibration.Offset.Kelvins - OffsetKelvins;
        OffsetKelvins = calibration.Offset.Kelvins;
        HumidityPoints = calibration.HumidityPoints;
        DryRaw = calibration.DryRaw ?? DryRaw;
        SaturatedRaw = calibration.SaturatedRaw ?? SaturatedRaw;
        Usual.Move(change);
        return change;
    }

    public bool IsFreshAt(long at) => HasLast && at - LastAt <= MaxGap;

    public bool IsWild(long at, double celsius, WatchTicks limits) =>
        HasLast && Math.Abs(celsius - LastCelsius) > limits.SpikeKelvins && at - LastAt <= limits.SpikeSpan;

    public void HoldBack(long at, double celsius)
    {
        HasSuspect = true;
        SuspectAt = at;
        SuspectCelsius = celsius;
    }

    /// <summary>Whether the reading held back is borne out by the next one.</summary>
    public bool BearsOut(double celsius) => Math.Abs(celsius - SuspectCelsius) < Math.Abs(celsius - LastCelsius);

    public void DropSuspect() => HasSuspect = false;

    public StationState Copy()
    {
        var copy = (StationState)MemberwiseClone();
        copy.Usual = Usual.Copy();
        copy.Off = Off.Copy();
        copy.LastDay = LastDay.Copy();
        copy.Spikes = Spikes.Copy();
        copy.Rates = Rates.Copy();
        return copy;
    }
}
