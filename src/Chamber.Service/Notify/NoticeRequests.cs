using Chamber.Service.Configuration;
using NodaTime;

namespace Chamber.Service.Notify;

/// <summary>How people are to be notified by mail.</summary>
/// <param name="Host">The mail server.</param>
/// <param name="From">Who sends.</param>
/// <param name="To">Who is notified; one at least.</param>
/// <param name="Port">1 to 65535; 587 by default.</param>
/// <param name="Security">How the connection is protected; startTls by default.</param>
/// <param name="User">Where the server asks who sends.</param>
/// <param name="Password">Only ever taken in. Left out, the one that is kept stays, as long as server, port, protection and user
/// do.</param>
/// <param name="OnlyWhenUnseen">Only for hazards, and for what nobody has seen though they were notified before.</param>
internal sealed record EmailRequest(string Host, string From, IReadOnlyList<string> To, int Port = 587,
    MailSecurity Security = MailSecurity.StartTls, string? User = null, string? Password = null, bool OnlyWhenUnseen = false);

/// <summary>Where notices are to be posted.</summary>
/// <param name="Url">The whole web address.</param>
/// <param name="Secret">Signs each request. Only ever taken in. Left out, the one that is kept stays; empty, nothing is signed any
/// more.</param>
/// <param name="OnlyWhenUnseen">Only for hazards, and for what nobody has seen though they were notified before.</param>
internal sealed record WebhookRequest(string Url, string? Secret = null, bool OnlyWhenUnseen = false);

/// <summary>That browsers may be notified.</summary>
/// <param name="Contact">How the push service can reach whoever runs this: <c>mailto:</c> or <c>https:</c>.</param>
/// <param name="OnlyWhenUnseen">Only for hazards, and for what nobody has seen though they were notified before.</param>
internal sealed record WebPushRequest(string Contact, bool OnlyWhenUnseen = false);

/// <summary>When people are notified, and where notices link to.</summary>
/// <param name="DigestAt">The hour of the daily digest in the home's time, as 07:30; null for none.</param>
/// <param name="QuietFrom">When quiet hours begin, in the home's time; null for none.</param>
/// <param name="QuietTo">When they end.</param>
/// <param name="PageLink">The page's address for those who read the notices; null for none.</param>
internal sealed record TellingRequest(LocalTime? DigestAt = null, LocalTime? QuietFrom = null, LocalTime? QuietTo = null,
    string? PageLink = null);

/// <summary>How notices are set up. Secrets are never shown; whether one is kept is.</summary>
/// <param name="Email">By mail; null when off.</param>
/// <param name="Webhook">By a post; null when off.</param>
/// <param name="WebPush">To browsers; null when off.</param>
/// <param name="Notified">When people are notified.</param>
internal sealed record NoticeSetUpAnswer(EmailAnswer? Email, WebhookAnswer? Webhook, WebPushAnswer? WebPush, TellingRequest Notified);

/// <summary>How people are notified by mail.</summary>
internal sealed record EmailAnswer(string Host, int Port, MailSecurity Security, string? User, bool PasswordKept, string From,
    IReadOnlyList<string> To, bool OnlyWhenUnseen);

/// <summary>Where notices are posted.</summary>
internal sealed record WebhookAnswer(string Url, bool SecretKept, bool OnlyWhenUnseen);

/// <summary>That browsers may be notified.</summary>
/// <param name="Contact">By whom.</param>
/// <param name="PublicKey">By which a browser subscribes (RFC 8292), base64url.</param>
/// <param name="OnlyWhenUnseen">Only for hazards, and for what nobody has seen though they were notified before.</param>
internal sealed record WebPushAnswer(string Contact, string PublicKey, bool OnlyWhenUnseen);
