using NodaTime;

namespace Chamber.Core.Climate;

/// <summary>Why something that arrived, or a part of it, is not used. Each has a line in docs/topics.md.</summary>
public enum RefusalReason
{
    /// <summary>No mapping knows the topic.</summary>
    UnknownTopic,

    /// <summary>The payload, or the line, is not in the declared form.</summary>
    Malformed,

    /// <summary>The payload is larger than the bound.</summary>
    TooLarge,

    /// <summary>The declared field is absent, empty, or a word such as "unavailable".</summary>
    Missing,

    /// <summary>The unit is not known, or does not measure this quantity.</summary>
    UnknownUnit,

    /// <summary>The value fits the other unit (°F against °C) and not the declared one.</summary>
    OtherUnit,

    /// <summary>A code by which a sensor says that it measured nothing (85.0, -127, -100 with a weak battery, ...).</summary>
    Sentinel,

    /// <summary>This value is impossible in or near a home.</summary>
    Impossible,

    /// <summary>The payload's time lies too far ahead of the time of arrival.</summary>
    FutureTime,

    /// <summary>The payload's time cannot be read.</summary>
    BadTime,

    /// <summary>A retained message without its own time: shown as last known, never integrated.</summary>
    RetainedWithoutTime,

    /// <summary>The probe is not known and new probes are not taken in.</summary>
    UnknownProbe,

    /// <summary>It was understood, but the data file would not take it, though it takes others.</summary>
    NotStored,
}

/// <summary>Something that arrived and is not used: kept raw and counted.</summary>
/// <param name="ReceivedAt">When it arrived.</param>
/// <param name="Source">The topic, or the file and line: <c>chamber/shelf/reading</c>, <c>log.csv:118</c>.</param>
/// <param name="Probe">Whose it is, where that is known.</param>
/// <param name="Quantity">Which quantity: <c>temperature</c>; null when it is the whole message.</param>
/// <param name="Reason">Why.</param>
/// <param name="Raw">The value or payload as it came, cut at <see cref="RawLengthMax"/> characters.</param>
/// <param name="Fix">One sentence that says what to do about it.</param>
public sealed record Refusal(
    Instant ReceivedAt,
    string Source,
    ProbeId? Probe,
    string? Quantity,
    RefusalReason Reason,
    string Raw,
    string Fix)
{
    /// <summary>Longer raw text is cut here, so that a flood of nonsense stays small.</summary>
    public const int RawLengthMax = 256;
}
