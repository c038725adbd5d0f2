namespace Chamber.Service.Notify;

/// <summary>How a delivery ended.</summary>
internal enum DeliveryOutcome
{
    /// <summary>The peer took it.</summary>
    Delivered,

    /// <summary>It may work later: the peer is away, slow, or asked to wait.</summary>
    TryLater,

    /// <summary>It will not work by waiting: wrong address, wrong password, subscription gone.</summary>
    Refused,
}

/// <param name="Outcome">How it ended.</param>
/// <param name="Reason">One sentence that says what happened and what to do about it; empty when delivered.</param>
/// <param name="RetryAfter">How long the peer asked to wait, where it did.</param>
internal readonly record struct Delivery(DeliveryOutcome Outcome, string Reason = "", TimeSpan? RetryAfter = null)
{
    public static Delivery Done => new(DeliveryOutcome.Delivered);

    public static Delivery Later(string reason, TimeSpan? after = null) => new(DeliveryOutcome.TryLater, reason, after);

    public static Delivery Never(string reason) => new(DeliveryOutcome.Refused, reason);
}

/// <summary>A way to reach somebody. A channel says how a delivery ended and throws only when it is cancelled.</summary>
internal interface INoticeChannel
{
    /// <summary>The name that configuration and the list of dead notices use: <c>email</c>.</summary>
    string Name { get; }

    /// <summary>Kept for notices that nobody has seen though they were notified before, and for hazards.</summary>
    bool OnlyWhenUnseen { get; }

    Task<Delivery> SendAsync(Notice notice, CancellationToken cancellationToken);
}
