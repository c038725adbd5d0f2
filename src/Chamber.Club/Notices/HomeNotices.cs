using Chamber.Club.Store;
using Chamber.Core.Alerts;
using Chamber.Core.Alerts.Conditions;
using Chamber.Core.Alerts.Notices;
using Chamber.Service.Configuration;
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

    /// <summary>Puts what is to be told into the outbox. While nobody has given an address nothing counts as told, so that who gives one
    /// hears of what is open.</summary>
    /// <returns>How many notices are new there.</returns>
    public async Task<int> DecideAsync(HomeFacts facts, Instant now, CancellationToken cancel)
    {
        if ((await club.AsAsync(home, session => NoticeRows.AddressesAsync(session, home), cancel)).Count == 0)
        {
            return 0;
        }

        var entries = await new ClubHomeRecords(club, home).AlertsAsync(now - NoticePolicy.Stale, cancel);
        var decisions = NoticePolicy.Decide([.. entries.Select(AlertRecords.ToStanding).OfType<AlertStanding>()], facts, quiet: null, now);
        if (decisions.Count == 0)
        {
            return 0;
        }

        var composer = new NoticeComposer(
            NoticeTemplates.Plain, () => mail.PageLink is { } link ? $"{link}/homes/{name}/" : null, facts.Zone);
        var notices = decisions.Select(decision => (decision.Number, decision.Notified, Notice: Named(composer.Of(
            decision, ConditionRegistry.InWords(decision.Alert, facts, new(false, facts.Zone)), now)))).ToList();
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
                await club.AsAsync(home, session => NoticeRows.SentAsync(session, home, one.Number), cancel);
                continue;
            }

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

    // Somebody may belong to several homes, each of which has its alert 1.
    private Notice Named(Notice notice) => notice with { Id = $"{name}-{notice.Id}", Title = $"{name}: {notice.Title}" };
}
