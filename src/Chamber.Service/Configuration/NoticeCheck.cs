using MimeKit;

namespace Chamber.Service.Configuration;

/// <summary>What the settings of notices mean together.</summary>
internal static class NoticeCheck
{
    public static IEnumerable<SettingsProblem> Problems(NoticeOptions notices, DataDirectory data) =>
        Email(notices.Email, data)
            .Concat(Webhook(notices.Webhook, data))
            .Concat(WebPush(notices.WebPush))
            .Concat(notices.PageLink is { } link && !IsWeb(link)
                ? [new("notices.pageLink",
                    $"\"{link}\" is not an address of the page: write it as a browser shows it, such as https://chamber.home:8470.")]
                : []);

    private static IEnumerable<SettingsProblem> Email(EmailOptions? email, DataDirectory data)
    {
        if (email is null)
        {
            yield break;
        }

        if (string.IsNullOrWhiteSpace(email.Host))
        {
            yield return new("notices.email.host", "is missing: name your provider's mail server, such as \"smtp.example.org\".");
        }
        else if (HostName.WhyNot(email.Host, "notices.email.port", "smtp.example.org") is { } host)
        {
            yield return new("notices.email.host", host);
        }

        if (!Core.Bounds.Port.Holds(email.Port))
        {
            yield return new("notices.email.port",
                $"{email.Port} is not a port: write 587 (STARTTLS), 465 (TLS) or what your provider says.");
        }

        if (!MailboxAddress.TryParse(email.From, out _))
        {
            yield return new("notices.email.from",
                $"\"{email.From}\" is not a mail address: write who sends, such as \"chamber@example.org\".");
        }

        if (email.To.Count == 0)
        {
            yield return new("notices.email.to", "is empty: name at least one mail address, such as [\"you@example.org\"].");
        }

        foreach (var address in email.To.Where(address => !MailboxAddress.TryParse(address, out _)))
        {
            yield return new("notices.email.to", $"\"{address}\" is not a mail address: write it as \"you@example.org\".");
        }

        if (email.User is null && (email.Password ?? email.PasswordFile) is not null)
        {
            yield return new("notices.email.user", "is missing: a password needs a user.");
        }

        foreach (var problem in Secret(data, "notices.email.password", email.Password, email.PasswordFile))
        {
            yield return problem;
        }
    }

    private static IEnumerable<SettingsProblem> Webhook(WebhookOptions? webhook, DataDirectory data)
    {
        if (webhook is null)
        {
            yield break;
        }

        if (!IsWeb(webhook.Url))
        {
            yield return new("notices.webhook.url",
                $"\"{webhook.Url}\" is not a web address: write it whole, such as \"https://box.home/chamber\".");
        }

        if (webhook.Secret is { Length: < WebhookOptions.SecretLengthMin })
        {
            yield return new("notices.webhook.secret",
                $"is too short to protect anything: use at least {WebhookOptions.SecretLengthMin} characters, better 32 random ones.");
        }

        foreach (var problem in Secret(data, "notices.webhook.secret", webhook.Secret, webhook.SecretFile))
        {
            yield return problem;
        }
    }

    private static IEnumerable<SettingsProblem> WebPush(WebPushOptions? push) =>
        push is null || IsContact(push.Contact)
            ? []
            : [new("notices.webPush.contact",
                $"\"{push.Contact}\" does not tell push services how to reach you: write \"mailto:you@example.org\".")];

    private static IEnumerable<SettingsProblem> Secret(DataDirectory data, string key, string? value, string? file)
    {
        if (value is not null && file is not null)
        {
            yield return new($"{key}File", $"stands beside {key}: keep one of them, better the file.");
        }

        if (file is not null && Problem(data, file) is { } problem)
        {
            yield return new($"{key}File", problem);
        }
    }

    private static string? Problem(DataDirectory data, string file)
    {
        try
        {
            SecretFile.Read(data.Resolve(file));
            return null;
        }
        catch (BadInputException problem)
        {
            return $"names {problem.Message}";
        }
    }

    // RFC 8292 section 2.1: a mail address or a page. What is neither ends in a fault when the first notice is signed.
    private static bool IsContact(string contact) => Uri.IsWellFormedUriString(contact, UriKind.Absolute)
        && (contact.StartsWith("mailto:", StringComparison.Ordinal) ? MailboxAddress.TryParse(contact["mailto:".Length..], out _)
            : contact.StartsWith("https://", StringComparison.Ordinal) && IsWeb(contact));

    private static bool IsWeb(string address) =>
        Uri.TryCreate(address, UriKind.Absolute, out var uri) && uri.Scheme is "http" or "https" && uri.Host.Length > 0;
}
