using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Diagnosis;
using Chamber.Core.Folding;

namespace Chamber.Core.Alerts.Fold;

/// <summary>
/// What the facts of a home, once folded, come to at a location, from a moment on. The set is closed: each says itself how it is applied,
/// so that one that nobody handles does not
/// compile. Two are equal when they say the same.
/// </summary>
/// <param name="At">When it takes effect.</param>
internal abstract record LocationChange(Moment At)
{
    /// <summary>In which order those of one moment apply: who leaves goes first, what is said of a batch comes after it has come.</summary>
    public abstract int Order { get; }

    /// <summary>Whom it is about, for an order among equals.</summary>
    public abstract string About { get; }

    /// <summary>Applies it.</summary>
    public abstract void Apply(LocationWatch location);
}

/// <summary>A probe stands here no more.</summary>
internal sealed record ProbeLeaves(Moment At, ProbeId Probe) : LocationChange(At)
{
    public override int Order => 0;

    public override string About => Probe.Text;

    public override void Apply(LocationWatch location)
    {
        if (location.State.Find(Probe) is not { } station)
        {
            return;
        }

        location.Tell(watch => watch.Leaving(station, At));
        location.State.ReleaseAll(
            holder => holder == station.Name || holder.StartsWith(station.Name + " ", StringComparison.Ordinal), At);
        location.State.Remove(station);
        location.Tell(watch => watch.Removed(station, At));
    }
}

/// <summary>A batch stands here no more, or has ended.</summary>
internal sealed record BatchLeaves(Moment At, BatchId Batch) : LocationChange(At)
{
    public override int Order => 1;

    public override string About => Batch.Text;

    public override void Apply(LocationWatch location)
    {
        if (location.State.Find(Batch) is not { } batch)
        {
            return;
        }

        location.Departures.Add(batch, At, location.State, location.Watches);
        location.State.ReleaseAll(holder => holder == batch.Name, At);
        location.State.Remove(batch);
        location.Tell(watch => watch.Removed(batch, At));
    }
}

/// <summary>A probe stands here from now on.</summary>
internal sealed record ProbeArrives(Moment At, Probe Probe, bool IsHandRead) : LocationChange(At)
{
    public override int Order => 2;

    public override string About => Probe.Id.Text;

    public override void Apply(LocationWatch location)
    {
        Moment? came = At > Moment.Beginning ? Moment.Later(At, location.State.SilenceFrom(Probe.Id)) : null;
        var station = new StationState(Probe, IsHandRead) { HeardAt = came };
        location.State.Add(station);
        location.Tell(watch => watch.Added(station));
    }
}

/// <summary>A calibration is in force from now on.</summary>
internal sealed record Calibrated(Moment At, ProbeCalibration Calibration) : LocationChange(At)
{
    public override int Order => 3;

    public override string About => Calibration.Probe.Text;

    public override void Apply(LocationWatch location)
    {
        if (location.State.Find(Calibration.Probe) is { } station && station.Calibrate(Calibration) is { Kelvins: not 0 } moved)
        {
            location.Tell(watch => watch.Calibrated(station, moved, At));
        }
    }
}

/// <summary>Somebody has set readings of a probe aside: from now on they say no more than that it spoke.</summary>
/// <param name="At">From when on.</param>
/// <param name="Probe">Whose.</param>
/// <param name="Until">Up to and without there.</param>
internal sealed record ReadingsPassedOver(Moment At, ProbeId Probe, Moment Until) : LocationChange(At)
{
    public override int Order => 3;

    public override string About => Probe.Text;

    public override void Apply(LocationWatch location)
    {
        if (location.State.Find(Probe) is { } station)
        {
            station.PassedOverUntil = Moment.Later(station.PassedOverUntil, Until);
        }
    }
}

/// <summary>A survey counts from now on.</summary>
/// <param name="At">From when on.</param>
/// <param name="Mean">Its mean.</param>
/// <param name="HoursCelsius">Its course, °C by hour of the day; null where an hour was not measured.</param>
internal sealed record Surveyed(Moment At, Temperature Mean, ValueList<double?> HoursCelsius) : LocationChange(At)
{
    public override int Order => 4;

    public override string About => "";

    public override void Apply(LocationWatch location) => location.Tell(watch => watch.Surveyed(this));
}

/// <summary>A batch stands here from now on.</summary>
internal sealed record BatchArrives(Moment At, BatchTerms Terms) : LocationChange(At)
{
    public override int Order => 5;

    public override string About => Terms.Id.Text;

    public override void Apply(LocationWatch location)
    {
        var batch = new BatchState(Terms, At);
        location.State.Add(batch);
        location.Tell(watch => watch.Added(batch));
    }
}

/// <summary>What a batch brings along from where it was before.</summary>
internal sealed record BatchBrings(Moment At, BatchDeparture Departure) : LocationChange(At)
{
    public override int Order => 6;

    public override string About => Departure.Batch.Text;

    public override void Apply(LocationWatch location)
    {
        if (location.State.Find(Departure.Batch) is { } batch)
        {
            Departures.Resume(Departure, batch, location.State, location.Watches);
        }
    }
}

/// <summary>Something about a batch that stands here.</summary>
internal abstract record BatchChange(Moment At, BatchId Batch) : LocationChange(At)
{
    public override string About => Batch.Text;

    public sealed override void Apply(LocationWatch location)
    {
        if (location.State.Find(Batch) is { } batch)
        {
            Apply(location, batch);
        }
    }

    /// <summary>Applies it to the batch, and tells it to the conditions.</summary>
    protected abstract void Apply(LocationWatch location, BatchState batch);
}

/// <summary>It was wetted.</summary>
internal sealed record Wetted(Moment At, BatchId Batch) : BatchChange(At, Batch)
{
    public override int Order => 7;

    protected override void Apply(LocationWatch location, BatchState batch) => location.Tell(watch => watch.Wetted(this));
}

/// <summary>Its cover came off, or its towel was planted up.</summary>
internal sealed record CoverTakenOff(Moment At, BatchId Batch) : BatchChange(At, Batch)
{
    public override int Order => 8;

    protected override void Apply(LocationWatch location, BatchState batch)
    {
        batch.Uncover(At);
        location.Tell(watch => watch.Uncovered(batch, At));
    }
}

/// <summary>Somebody looked and counted.</summary>
internal sealed record Looked(Moment At, BatchId Batch, int Up) : BatchChange(At, Batch)
{
    public override int Order => 9;

    protected override void Apply(LocationWatch location, BatchState batch)
    {
        var isMore = Up > batch.Up;
        batch.Up = Math.Max(batch.Up, Up);
        batch.FirstUpAt ??= Up > 0 ? At : null;
        location.Tell(watch => watch.Looked(batch, At, isMore));
    }
}

/// <summary>A forecast asks for a look.</summary>
internal sealed record LookWanted(Moment At, BatchId Batch, double Chance) : BatchChange(At, Batch)
{
    public override int Order => 10;

    protected override void Apply(LocationWatch location, BatchState batch) => location.Tell(watch => watch.LookWanted(batch, this));
}

/// <summary>A forecast gives the rest up.</summary>
internal sealed record WaitingOver(Moment At, BatchId Batch, double Chance, CauseKind? Why) : BatchChange(At, Batch)
{
    public override int Order => 11;

    protected override void Apply(LocationWatch location, BatchState batch) => location.Tell(watch => watch.WaitingOver(batch, this));
}
