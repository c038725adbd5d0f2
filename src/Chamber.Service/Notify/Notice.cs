using NodaTime;

namespace Chamber.Service.Notify;

/// <summary>How soon somebody should hear of it.</summary>
internal enum NoticeUrgency
{
    /// <summary>Can wait for the morning.</summary>
    Routine,

    /// <summary>Wants a hand today.</summary>
    Soon,

    /// <summary>Can hurt somebody or burn something: said at once, day or night.</summary>
    Hazard,
}

/// <summary>Something to tell somebody, in words that stand alone on a locked phone.</summary>
/// <param name="Id">Unique and stable, so that a notice sent twice can be recognised as one.</param>
/// <param name="At">When the cause was seen.</param>
/// <param name="Kind">What it is about, such as <c>alert.opened</c> or <c>digest</c>; lower case with dots.</param>
/// <param name="Subject">The spot, probe or batch, or null.</param>
/// <param name="Urgency">How soon it should be heard.</param>
/// <param name="Title">One line: what, and where.</param>
/// <param name="Body">Plain sentences: since when, how bad, what to do.</param>
internal sealed record Notice(
    string Id,
    Instant At,
    string Kind,
    string? Subject,
    NoticeUrgency Urgency,
    string Title,
    string Body)
{
    /// <summary>The spot whose last temperatures belong beside the words, in a channel that can show them; null for none.</summary>
    public string? PlotSpot { get; init; }

    /// <summary>Nobody has seen what it is about though they were notified before.</summary>
    public bool IsUnseen { get; init; }

    /// <summary>Where to read on, or null.</summary>
    public string? Link { get; init; }
}
