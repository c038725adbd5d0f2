using Chamber.Club.Store;
using MimeKit;

namespace Chamber.Club.Notices;

/// <summary>The addresses that get a home's notices, as people add them.</summary>
internal static class HomeAddresses
{
    /// <summary>Adds an address.</summary>
    /// <returns>It as it is kept, and whether it is new.</returns>
    /// <exception cref="FormatException">It is no address, or the home has as many as it may have.</exception>
    public static async Task<(string Mail, bool IsNew)> AddAsync(ClubDatabase club, int home, string typed, CancellationToken cancel)
    {
        var mail = Required(typed);
        var isNew = await club.AsAsync(home, async session =>
        {
            await session.LockAsync([home]);
            return (await NoticeRows.AddressesAsync(session, home)).Count < NoticeRows.AddressesMax
                ? await NoticeRows.AddAsync(session, home, mail)
                : throw new FormatException($"A home has {NoticeRows.AddressesMax} addresses at most. Remove one of them first.");
        }, cancel);
        return (mail, isNew);
    }

    private static string Required(string text) => MailboxAddress.TryParse(text, out var mailbox) && mailbox.Address.Contains('@')
        && !mailbox.Address.Any(char.IsWhiteSpace)
        ? mailbox.Address
        : throw new FormatException($"\"{text}\" is no e-mail address, such as ana@example.org.");
}
