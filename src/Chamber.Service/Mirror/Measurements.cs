namespace Chamber.Service.Mirror;

/// <summary>
/// Everything that the mirror sends. All fields are numbers, so that any server of time series keeps them. Tags are only what
/// can never change afterwards, because a server tells lines apart by tags and time.
/// </summary>
internal static class Measurements
{
    private static readonly Part Batch = new("batch", "The batch.");
    private static readonly Part Crop = new("crop", "Its crop.");
    private static readonly Part Probe = new("probe", "The probe.");
    private static readonly Part Spot = new("spot", "The spot.");
    private static readonly Part Present = new("present", "1 while it stands there, 0 from when it has left.");

    public static Measurement Reading { get; } = new(
        "chamber_reading",
        "A reading as it stands in the journal, at the time of measurement. A quantity that the probe did not tell is left out.",
        [Probe],
        [
            new("temperature_celsius", "Temperature, as the probe reported it (no offset added).", 3),
            new("humidity_percent", "Relative humidity.", 3),
            new("moisture_raw", "Media moisture on the probe's own scale.", 3),
            new("battery_percent", "Battery.", 1),
        ]);

    public static Measurement Alert { get; } = new(
        "chamber_alert",
        "A line when an alert is opened and one when it is closed.",
        [new("kind", "The condition, such as too-cold."), new("subject_kind", "home, spot, probe or batch."), new("subject", "Its name.")],
        [new("open", "1 from then on it is open, 0 from then on it is closed."),
            new("severity", "1 note, 2 warning, 3 urgent, 4 danger: the worst so far.")]);

    public static Measurement Station { get; } = new(
        "chamber_station", "On each hour, and when it comes or goes: a probe stands on a spot. Joins readings to spots.", [Probe, Spot],
        [Present]);

    public static Measurement Stay { get; } = new(
        "chamber_stay", "On each hour, and when it comes or goes: a batch stands on a spot. Joins batches to spots.", [Batch, Spot],
        [Present]);

    public static Measurement Warmth { get; } = new(
        "chamber_batch",
        "On each hour: how far a batch has come. Sent again when late readings change it.",
        [Batch, Crop],
        [
            new("warm_hours", "Warm-hours since the sowing, °C·h above the crop's base temperature.", 2),
            new("warm_hours_half", "Warm-hours after which half of the crop is up, as this home's other batches have taught, °C·h.", 2),
            new("seeds", "Seeds sown."),
            new("up", "Up at the last look until then."),
        ]);

    public static Measurement Suitability { get; } = new(
        "chamber_suitability",
        "How well a spot serves a crop, from the fortnight before. Each hour as it passes, each midnight of the home for the past; for "
            + "crops of open batches and of lots.",
        [Spot, Crop],
        [
            new("score", "Suitability, 0 to 100.", 1),
            new("score_low", "Low end of its 80 % interval.", 1),
            new("score_high", "High end.", 1),
            new("confidence", "How well the spot is known, 0 to 100.", 1),
            new("warm_hours_per_day", "Warm-hours that a usual day brings, °C·h.", 1),
            new("half_days", "Days until half are up, as this home's batches have taught; left out where it makes no progress.", 2),
        ]);

    public static Measurement Forecast { get; } = new(
        "chamber_forecast",
        "What was forecast of a batch at that time, as it was said then. When as for suitability. A time that may never come is left out.",
        [Batch, Crop],
        [
            new("first_days", "First up, days after the sowing.", 2),
            new("first_days_low", "Low end of its 80 % interval.", 2),
            new("first_days_high", "High end.", 2),
            new("half_days", "Half of all that come up are up, days after the sowing.", 2),
            new("half_days_low", "Low end.", 2),
            new("half_days_high", "High end.", 2),
            new("half_at_seconds", "The same as seconds since 1970."),
            new("most_days", "Nine in ten of them are up, days after the sowing.", 2),
            new("stop_days", "The day to stop waiting, days after the sowing.", 2),
            new("chance_of_more_ratio", "The chance of even one more, 0 to 1.", 4),
        ]);

    public static IReadOnlyList<Measurement> All { get; } = [Reading, Alert, Station, Stay, Warmth, Suitability, Forecast];
}
