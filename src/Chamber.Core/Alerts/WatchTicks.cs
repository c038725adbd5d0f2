using NodaTime;

namespace Chamber.Core.Alerts;

/// <summary>The limits with their times as ticks, taken apart once instead of at every reading.</summary>
internal sealed class WatchTicks(WatchLimits limits, DateTimeZone zone)
{
    public WatchLimits Limits { get; } = limits;

    public DateTimeZone Zone { get; } = zone;

    public double SpikeKelvins { get; } = limits.SpikeKelvins;

    public long SpikeSpan { get; } = Ticks(limits.SpikeSpan);

    public long ColdClear { get; } = Ticks(limits.ColdClearHold);

    public long HotHold { get; } = Ticks(limits.HotHold);

    public long HotHoldAir { get; } = Ticks(limits.HotHoldAir);

    public long HotClear { get; } = Ticks(limits.HotClearHold);

    public long HazardClear { get; } = Ticks(limits.HazardClearHold);

    /// <summary>°C from which on a reading is folded at once, whatever may still come before it. Leaves room for an offset of 5 K.</summary>
    public double FlushCelsius { get; } = limits.HarmCelsius - 5;

    public long Settle { get; } = Ticks(limits.Settle);

    public long StaleHold { get; } = Ticks(limits.StaleHold);

    public long DisagreeHold { get; } = Ticks(limits.DisagreeHold);

    public long WetHoldMix { get; } = Ticks(limits.WetHoldMix);

    public long WetHoldTowel { get; } = Ticks(limits.WetHoldTowel);

    public long DryHold { get; } = Ticks(limits.DryHold);

    public long LidTightHold { get; } = Ticks(limits.LidTightHold);

    public long LidDryHold { get; } = Ticks(limits.LidDryHold);

    public long CoverHoldMix { get; } = Ticks(limits.CoverHoldMix);

    public long CoverHoldTowel { get; } = Ticks(limits.CoverHoldTowel);

    public long FlatHold { get; } = Ticks(limits.FlatHold);

    public long SaturatedHold { get; } = Ticks(limits.SaturatedHold);

    private static long Ticks(Duration duration) => duration.BclCompatibleTicks;
}
