using Chamber.Club.Store;
using Chamber.Club.Telemetry;
using Chamber.Core.Alerts;
using Chamber.Core.Alerts.Conditions;
using Chamber.Core.Alerts.Notices;
using Chamber.Core.Climate;
using Chamber.Core.Forecasts;
using Chamber.Service.Configuration;
using Chamber.Service.Home;
using Chamber.Service.Home.Watching;
using Chamber.Service.Notify;
using NodaTime;

namespace Chamber.Club.Notices;

/// <summary>How the notices of a club leave.</summary>
/// <param name="Server">The mail server, with the password in it and without receivers.</param>
/// <param name="PageLink">Where the pages are for those who read them, such as <c>https://club.example</c>; null leaves the link
/// out.</param>
internal sealed record ClubMail(EmailOptions Server, string? PageLink);

/// <summary>
/// Decides what the people of a home are notified of, as at home, and sends it. What is decided stands in the home's outbox in the
/// transaction that says that people were notified: whoever takes the home over sends it, and does not decide it once more.
/// </summary>
/// <param name="club">Where alerts and outbox are.</param>
/// <param name="mail">The way out.</param>
/// <param name="home">The home's number.</param>
/// <param name="name">Its name, which tells its notices from those of other homes.</param>
internal sealed class HomeNotices(ClubDatabase club, ClubMail mail, int home, string name)
{
    // Spreads the tries of homes whose mail server was away together.
    private readonly Random jitter = new(home);
    private LocalDate? digested;

    /// <summary>Puts what is to be told into the outbox. While nobody has given an address nothing counts as told, so that who gives one
    /// hears of what is open.</summary>
    /// <param name="facts">What is known of the home.</param>
    /// <param name="settings">What is set for it: in quiet hours nothing but a hazard leaves.</param>
    /// <param name="now">The present.</param>
    /// <param name="cancel">Ends the wait.</param>
    /// <returns>How many notices are new there.</returns>
    public async Task<int> DecideAsync(HomeFacts facts, Settings settings, Instant now, CancellationToken cancel)
    {
        if (!await HasAddressAsync(cancel))
        {
            return 0;
        }

        var quiet = settings.QuietHours is { } hours ? new QuietHours(hours.From, hours.To) : (QuietHours?)null;
        var entries = await new ClubHomeRecords(club, home).AlertsAsync(now - NoticePolicy.Stale, cancel);
        var decisions = NoticePolicy.Decide([.. entries.Select(AlertRecords.ToStanding).OfType<AlertStanding>()], facts, quiet, now);
        if (decisions.Count == 0)
        {
            return 0;
        }

        var composer = Composer(facts.Zone);
        var style = new WordStyle(settings.Units == TemperatureScale.Fahrenheit, facts.Zone);
        var notices = decisions.Select(decision => (decision.Number, decision.Notified, Notice: Named(composer.Of(
            decision, ConditionRegistry.InWords(decision.Alert, facts, style), now)))).ToList();
        return await club.AsAsync(home, async session =>
        {
            await session.LockAsync([home]);
            var put = 0;
            foreach (var (number, notified, notice) in notices)
            {
                put += await NoticeRows.PutAsync(session, home, notice, now);
                await NoticeRows.NotifiedAsync(session, home, number, AlertRecords.ToEntry(notified));
            }

            return put;
        }, cancel);
    }

    /// <summary>The day whose digest is due and was not put into the outbox by this process; null for none.</summary>
    public LocalDate? DigestDueAt(Settings settings, Instant now) =>
        settings.Notices.Digest is { At: var at } && DigestClock.DueOn(at, settings.Zone, now) is { } day && day != digested ? day : null;

    /// <summary>Puts the digest of a day into the outbox, once whoever asks.</summary>
    /// <param name="reader">The home as it is now.</param>
    /// <param name="day">Which day.</param>
    /// <param name="now">The present.</param>
    /// <param name="cancel">Ends the wait.</param>
    public async Task DigestAsync(HomeReader reader, LocalDate day, Instant now, CancellationToken cancel)
    {
        if (!await HasAddressAsync(cancel))
        {
            return;
        }

        var notice = Named(Composer(reader.Zone).Of(await AtHand.AskAsync(() => HomeDigest.Of(reader, now), cancel), day, now));
        await club.AsAsync(home, async session =>
        {
            await session.LockAsync([home]);
            return await SettingRows.BeginDigestAsync(session, home, day) ? await NoticeRows.PutAsync(session, home, notice, now) : 0;
        }, cancel);
        digested = day;
    }

    /// <summary>Sends what is due; what fails waits longer each time, and is given up in the end, with the reason.</summary>
    /// <returns>The reasons of those that failed, and how many still wait.</returns>
    public async Task<(IReadOnlyList<string> Failed, long Waiting)> SendAsync(Instant now, CancellationToken cancel)
    {
        var failed = new List<string>();
        foreach (var one in await club.AsAsync(home, session => NoticeRows.DueAsync(session, home, now), cancel))
        {
            var delivery = await new EmailChannel(mail.Server with { To = [one.Mail] }, _ => null).SendAsync(one.Notice, cancel);
            if (delivery.Outcome == DeliveryOutcome.Delivered)
            {
                ClubSignals.Sent.Add(1);
                await club.AsAsync(home, session => NoticeRows.SentAsync(session, home, one.Number), cancel);
                continue;
            }

            ClubSignals.NotSent.Add(1);
            failed.Add(delivery.Reason);
            var isLater = delivery.Outcome == DeliveryOutcome.TryLater && one.Tries + 1 < NoticeSender.AttemptsMax;
            var again = isLater ? now + NoticeSender.WaitAfter(one.Tries, jitter.NextDouble()) : (Instant?)null;
            await club.AsAsync(home, session => NoticeRows.FailedAsync(session, home, one.Number, delivery.Reason, again), cancel);
            if (isLater)
            {
                // The server is away: the others wait for the next time.
                break;
            }
        }

        return (failed, await club.AsAsync(home, session => NoticeRows.WaitingAsync(session, home), cancel));
    }

    private async Task<bool> HasAddressAsync(CancellationToken cancel) =>
        (await club.AsAsync(home, session => NoticeRows.AddressesAsync(session, home), cancel)).Count > 0;

    private NoticeComposer Composer(DateTimeZone zone) =>
        new(NoticeTemplates.Plain, () => mail.PageLink is { } link ? $"{link}/homes/{name}/" : null, zone);

    // Somebody may belong to several homes, each of which has its alert 1.
    private Notice Named(Notice notice) => notice with { Id = $"{name}-{notice.Id}", Title = $"{name}: {notice.Title}" };
}
