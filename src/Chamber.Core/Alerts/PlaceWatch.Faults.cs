using Chamber.Core.Climate;
using NodaTime;

namespace Chamber.Core.Alerts;

/// <summary>Faults of the probe, which are not faults of the spot.</summary>
internal sealed partial class PlaceWatch
{
    private const long FaultSpan = NodaConstants.TicksPerDay;
    private const int FlatReadings = 48;
    private const long BatteryHold = NodaConstants.TicksPerHour;

    // Wet media of a box changes by about 1 K a minute at most (common practice, no source).
    private const double MediaKelvinsPerMinute = 1;

    private void CountRate(StationState station)
    {
        var minutes = Math.Max(1, (station.SuspectAt - station.LastAt) / (double)NodaConstants.TicksPerMinute);
        if (station.Measurand == Measurand.Media && Math.Abs(station.SuspectCelsius - station.LastCelsius) / minutes > MediaKelvinsPerMinute)
        {
            CountFault(station, station.Rates, ProbeFault.ImpossibleRate, station.SuspectAt);
        }
    }

    private void CountFault(StationState station, FaultTimes times, ProbeFault fault, long at)
    {
        var tooMany = times.Add(at, limits.Limits.FaultCount, FaultSpan);
        if (fault == ProbeFault.Spike)
        {
            station.Spikes = times;
        }
        else
        {
            station.Rates = times;
        }

        if (tooMany)
        {
            Fault(Book.Raise(AlertKind.FaultyProbe, AlertSubject.Of(station.Id), Severity.Warning, at, at, $"{station.Name} {fault}"), station, fault);
        }
    }

    private void ForgetFaults(StationState station, long at)
    {
        ForgetFault(station, station.Spikes.Last, ProbeFault.Spike, at);
        ForgetFault(station, station.Rates.Last, ProbeFault.ImpossibleRate, at);
    }

    private void ForgetFault(StationState station, long last, ProbeFault fault, long at)
    {
        if (last > 0 && at - last >= FaultSpan)
        {
            Book.Release(AlertKind.FaultyProbe, AlertSubject.Of(station.Id), $"{station.Name} {fault}", last + FaultSpan, CloseReason.Over, HarmOf);
        }
    }

    private void JudgeFlatLine(StationState station, long at, double celsius)
    {
        if (!station.HasLast || celsius != station.LastCelsius)
        {
            if (station.IsFlat)
            {
                station.IsFlat = false;
                Book.Release(AlertKind.FaultyProbe, AlertSubject.Of(station.Id), $"{station.Name} {ProbeFault.FlatLine}", at, CloseReason.Over, HarmOf);
            }

            station.FlatSince = at;
            station.FlatCount = 1;
            return;
        }

        station.FlatCount++;
        if (!station.IsFlat && station.FlatCount >= FlatReadings && at - station.FlatSince >= limits.FlatHold)
        {
            station.IsFlat = true;
            var alert = Book.Raise(AlertKind.FaultyProbe, AlertSubject.Of(station.Id), Severity.Note, station.FlatSince, at, $"{station.Name} {ProbeFault.FlatLine}");
            Fault(alert, station, ProbeFault.FlatLine);
            alert[FigureName.LatestCelsius] = celsius;
        }
    }

    private static void Fault(OpenAlert? alert, StationState station, ProbeFault fault)
    {
        if (alert is { Fault: ProbeFault.None })
        {
            alert.Probe = station.Id;
            alert.Fault = fault;
        }
    }

    private void TakeBattery(StationState station, long at, double percent)
    {
        var about = AlertSubject.Of(station.Id);
        var limit = limits.Limits.BatteryPercent;
        Turned(station.Battery.Advance(at, BatteryHold, 0), station.Battery, AlertKind.WeakBattery, about, station.Name, Severity.Note);
        Turned(station.Battery.Judge(at, percent <= limit, percent >= 2 * limit, BatteryHold, 0), station.Battery, AlertKind.WeakBattery, about, station.Name, Severity.Note);
        if (station.Battery.IsOpen && Book.Find(AlertKind.WeakBattery, about) is { } alert)
        {
            alert.Probe = station.Id;
            alert[FigureName.Percent] = percent;
        }
    }
}
