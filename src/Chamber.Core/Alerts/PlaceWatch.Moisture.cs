using Chamber.Core.Batches;
using Chamber.Core.Climate;

namespace Chamber.Core.Alerts;

/// <summary>Too wet, drying out, and what a humidity sensor at its end proves.</summary>
internal sealed partial class PlaceWatch
{
    /// <summary>A humidity sensor that reads this or more can tell no more.</summary>
    private const double SaturatedPercent = 99.5;

    private void TakeMoisture(StationState station, long at, double raw)
    {
        if (MediaMoisture.PercentOf(raw, station.DryRaw, station.SaturatedRaw) is not { } percent || batches.Count == 0)
        {
            return;
        }

        var towel = batches.Exists(batch => batch.Method == SowingMethod.DampTowel);
        var wetHold = towel ? limits.WetHoldTowel : limits.WetHoldMix;
        var dry = towel ? limits.Limits.DryPercentTowel : limits.Limits.DryPercentMix;
        var margin = limits.Limits.MoistureMargin;
        var known = Math.Min(at, station.MoistureAt + station.MaxGap);
        var isGap = at - station.MoistureAt > station.MaxGap;
        Moist(Pass(ref station.Wet, known, isGap, wetHold, limits.DryHold), station.Wet, AlertKind.TooWet, station, percent);
        Moist(station.Wet.Judge(at, percent > limits.Limits.WetPercent, percent < limits.Limits.WetPercent - margin, wetHold, limits.DryHold), station.Wet, AlertKind.TooWet, station, percent);
        Moist(Pass(ref station.Dry, known, isGap, limits.DryHold, 0), station.Dry, AlertKind.DryingOut, station, percent);
        Moist(station.Dry.Judge(at, percent < dry, percent > dry + margin, limits.DryHold, 0), station.Dry, AlertKind.DryingOut, station, percent);
        station.MoistureAt = at;
        NoteMoisture(AlertKind.TooWet, station.Wet, percent, at);
        NoteMoisture(AlertKind.DryingOut, station.Dry, percent, at);
    }

    private static Turn Pass(ref HeldCondition held, long knownUntil, bool isGap, long hold, long clear)
    {
        var turn = held.Advance(knownUntil, hold, clear);
        if (isGap)
        {
            held.Lose();
        }

        return turn;
    }

    private void Moist(Turn turn, in HeldCondition held, AlertKind kind, StationState station, double percent)
    {
        if (Turned(turn, held, kind, subject, station.Name, Severity.Warning) is { } alert)
        {
            alert.Probe ??= station.Id;
            alert[FigureName.Percent] = percent;
            alert[FigureName.LimitPercent] = kind == AlertKind.TooWet ? limits.Limits.WetPercent
                : batches.Exists(batch => batch.Method == SowingMethod.DampTowel) ? limits.Limits.DryPercentTowel : limits.Limits.DryPercentMix;
        }
    }

    private void NoteMoisture(AlertKind kind, in HeldCondition held, double percent, long at)
    {
        if (held.IsOpen && Book.Find(kind, subject) is { } alert)
        {
            alert.LastTicks = at;
            alert[FigureName.Percent] = percent;
        }
    }

    private void RestartWetness(long at)
    {
        foreach (var station in stations)
        {
            station.Wet.Lose();
            Restart(ref station.Dry, AlertKind.DryingOut, at);
        }
    }

    private void ForgetWetness(long at)
    {
        foreach (var station in stations)
        {
            Restart(ref station.Wet, AlertKind.TooWet, at);
            Restart(ref station.Dry, AlertKind.DryingOut, at);
            Restart(ref station.LidLeaks, AlertKind.DryingOut, at);
            station.LidTight = default;
        }
    }

    private void TakeHumidity(StationState station, long at, double raw)
    {
        // At the end of its scale a sensor says no more than "saturated", whatever its offset.
        var percent = raw >= SaturatedPercent ? raw : Math.Clamp(raw + station.HumidityPoints, 0, 100);
        var covered = batches.Exists(batch => batch.IsCovered);
        var known = Math.Min(at, station.HumidityAt + station.MaxGap);
        var isGap = at - station.HumidityAt > station.MaxGap;
        JudgeSaturation(station, at, raw, known, isGap, covered);
        if (covered)
        {
            JudgeLid(station, at, percent, known, isGap);
        }

        station.HumidityAt = at;
        station.HumidityPercent = percent;
    }

    // Under a cover air is saturated whether the media is damp or swimming: there it proves a shut cover and no fault. A lid that nobody has
    // written down is a lid all the same, so that it must be known that the air is open.
    private void JudgeSaturation(StationState station, long at, double raw, long known, bool isGap, bool covered)
    {
        var saturated = raw >= SaturatedPercent;
        var open = !covered && (batches.Exists(batch => batch.IsOpenHere) || WaterEvaporatesBy(station, at));
        if (!saturated && !station.Saturated.IsOpen)
        {
            station.Saturated.Lose();
            return;
        }

        var holder = $"{station.Name} saturated";
        var about = AlertSubject.Of(station.Id);
        Fault(Turned(Pass(ref station.Saturated, known, isGap || !open, limits.SaturatedHold, 0), station.Saturated, AlertKind.FaultyProbe, about, holder, Severity.Note), station, ProbeFault.SaturatedHumidity);
        Fault(Turned(station.Saturated.Judge(at, saturated && open, !saturated || covered, limits.SaturatedHold, 0), station.Saturated, AlertKind.FaultyProbe, about, holder, Severity.Note), station, ProbeFault.SaturatedHumidity);
    }

    // Wet media stays a few degrees cooler than the air around it only while water evaporates into that air: then it is not saturated, whatever a sensor says.
    private bool WaterEvaporatesBy(StationState station, long at) =>
        station is { Measurand: Measurand.Air, HasLast: true }
        && stations.Exists(other => other.Measurand == Measurand.Media && other.IsFreshAt(at) && EvaporativeCooling.Explains(station.LastCelsius, other.LastCelsius));

    private void JudgeLid(StationState station, long at, double percent, long known, bool isGap)
    {
        var wasTight = station.LidTight.IsOpen;
        Pass(ref station.LidTight, known, isGap, limits.LidTightHold, long.MaxValue);
        station.LidTight.Judge(at, percent > limits.Limits.LidTightPercent, false, limits.LidTightHold, long.MaxValue);
        if (!wasTight)
        {
            return;
        }

        var holder = $"{station.Name} lid";
        Lid(Turned(Pass(ref station.LidLeaks, known, isGap, limits.LidDryHold, limits.DryHold), station.LidLeaks, AlertKind.DryingOut, subject, holder, Severity.Note), station, percent);
        Lid(Turned(station.LidLeaks.Judge(at, percent < limits.Limits.LidDryPercent, percent > limits.Limits.LidDryPercent + limits.Limits.MoistureMargin, limits.LidDryHold, limits.DryHold), station.LidLeaks, AlertKind.DryingOut, subject, holder, Severity.Note), station, percent);
    }

    private void Lid(OpenAlert? alert, StationState station, double percent)
    {
        if (alert is null || alert.Probe is not null)
        {
            return;
        }

        alert.Probe = station.Id;
        alert[FigureName.Percent] = percent;
        alert[FigureName.LimitPercent] = limits.Limits.LidDryPercent;
        if (station.HasLast && Psychrometrics.DewPointGap(Temperature.FromCelsius(station.LastCelsius), RelativeHumidity.FromPercent(percent)) is { } gap)
        {
            alert[FigureName.DewPointGapKelvins] = gap.Kelvins;
        }
    }
}
