using Chamber.Core.Climate;
using Chamber.Service.Configuration;
using Chamber.Storage;
using NodaTime;

namespace Chamber.Service.Mirror;

/// <summary>What one step of the mirror came to.</summary>
/// <param name="Lines">Lines that the server has now; 0 when there was nothing to send.</param>
/// <param name="Trouble">Why nothing could be sent; null when all is well.</param>
/// <param name="After">How long the server asked to wait.</param>
/// <param name="Refused">Lines that were set aside.</param>
internal sealed record PumpStep(int Lines, string? Trouble, TimeSpan? After, IReadOnlyList<(string Line, string Reason)> Refused);

/// <summary>
/// Takes what the server has not got yet out of journal and ledger, posts it, and notes in the ledger how far it has come once
/// the server has it. One at a time: whoever pumps holds <see cref="SendingHold"/>.
/// </summary>
internal sealed class MirrorPump(ChamberStore store, MirrorSettings settings, SendLines send, UnsentHours hours, SetAsideFile aside,
    TimeProvider clock)
{
    private readonly UnsentReadings readings = new(store.Journal);
    private readonly UnsentAlerts alerts = new(store.Ledger.Alerts, settings.Home);
    private readonly LinePost post = new(send);

    public MirrorCursor Cursor { get; private set; } = MirrorCursor.Load(store, settings.Target());

    /// <summary>Whether the last step left anything to do, though it sent nothing: hours in which nothing stood anywhere.</summary>
    public bool HasMore { get; private set; }

    private Instant Now => Instant.FromDateTimeOffset(clock.GetUtcNow());

    public async Task<PumpStep> StepAsync(CancellationToken cancellationToken)
    {
        var (lines, then) = Next();
        if (lines.Count == 0)
        {
            Note(then);
            return new(0, null, null, []);
        }

        var posted = await post.SendAsync(lines, cancellationToken);
        if (posted.Trouble is not null)
        {
            return new(0, posted.Trouble, posted.After, []);
        }

        aside.Add(posted.Refused);
        Note(then with
        {
            Sent = then.Sent + lines.Count - posted.Refused.Count,
            SetAside = then.SetAside + posted.Refused.Count,
            SentAt = Now.ToUnixTimeMilliseconds(),
        });
        return new(lines.Count, null, null, posted.Refused);
    }

    private (List<string> Lines, MirrorCursor Then) Next()
    {
        var lines = new List<string>();
        var (unsent, then) = readings.Next(Cursor, settings.BatchLines);
        lines.AddRange(unsent.Select(Line).OfType<string>());
        then = UnsentHours.Rewound(then, unsent);
        if (unsent.Count < settings.BatchLines)
        {
            (var told, then) = alerts.Next(then);
            lines.AddRange(told);
        }

        // What is folded from readings comes after the readings themselves.
        if (unsent.Count == 0)
        {
            (var folded, then) = hours.Next(then, Now, settings);
            lines.AddRange(folded);
        }

        return (lines, then);
    }

    private void Note(MirrorCursor then)
    {
        HasMore = !then.IsAsFarAs(Cursor);
        if (HasMore)
        {
            then.Save(store);
        }

        Cursor = then;
    }

    private string? Line(Reading reading) => Measurements.Reading.Line(
        settings.Home, reading.MeasuredAt,
        [reading.Probe.Text],
        [reading.Temperature?.Celsius, reading.Humidity?.Percent, reading.Moisture, reading.Battery]);
}
