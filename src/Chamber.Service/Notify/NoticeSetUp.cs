using System.Text.Json;
using System.Text.Json.Nodes;
using System.Text.Json.Serialization;
using Chamber.Service.Configuration;

namespace Chamber.Service.Notify;

/// <summary>
/// Sets up on the page how people are notified. What is asked is checked, written into chamber.json as a whole or not at all, and in
/// force at once. A secret goes into its own file that only its owner can read, and is never shown again.
/// </summary>
internal sealed class NoticeSetUp(SettingsInForce settings, DataDirectory data)
{
    private const string EmailKey = "notices.email";
    private const string WebhookKey = "notices.webhook";
    private const string WebPushKey = "notices.webPush";
    private const string PasswordFile = "notices-email-password";
    private const string SecretPurpose = "notices-webhook-secret";

    private static readonly JsonSerializerOptions Written =
        new(SettingsText.Options) { DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull };

    /// <summary>How it is set up now.</summary>
    public NoticeSetUpAnswer Read()
    {
        var notices = settings.Notices;
        return new(
            notices.Email is { } email ? new(email.Host, email.Port, email.Security, email.User,
                (email.Password ?? email.PasswordFile) is not null, email.From, email.To, email.OnlyWhenUnseen) : null,
            notices.Webhook is { } webhook ? new(webhook.Url, (webhook.Secret ?? webhook.SecretFile) is not null, webhook.OnlyWhenUnseen)
                : null,
            notices.WebPush is { } push ? new(push.Contact, new PushKeys(data.PushKeys).Pair().Public, push.OnlyWhenUnseen) : null,
            new(notices.Digest?.At, settings.QuietHours?.From, settings.QuietHours?.To, notices.PageLink));
    }

    /// <exception cref="BadInputException">It cannot be used, or not written; nothing was changed.</exception>
    public void Set(EmailRequest asked)
    {
        var user = Blank(asked.User);
        var typed = user is null ? null : Blank(asked.Password);
        var email = new EmailOptions
        {
            Host = asked.Host.Trim(),
            Port = asked.Port,
            Security = asked.Security,
            User = user,
            From = asked.From.Trim(),
            To = [.. asked.To.Select(one => one.Trim()).Where(one => one.Length > 0)],
            OnlyWhenUnseen = asked.OnlyWhenUnseen,
        };
        Refuse(NoticeCheck.Problems(new() { Email = email }, data));
        if (typed is null && user is not null && settings.Notices.Email is { } now && (now.Password ?? now.PasswordFile) is not null)
        {
            // Whoever may change the server must not thereby be sent the password.
            if ((now.Host, now.Port, now.Security, now.User) != (email.Host, email.Port, email.Security, email.User))
            {
                throw BadInputException.In("password",
                    $"Type the password again: it was given for {now.User} at {now.Host}:{now.Port} and is not sent anywhere else.");
            }

            email = email with { Password = settings.InFile.Email?.Password, PasswordFile = settings.InFile.Email?.PasswordFile };
        }

        Write(EmailKey, PasswordFile, typed, email.PasswordFile, file => file is null ? email : email with { PasswordFile = file });
    }

    /// <exception cref="BadInputException">It cannot be used, or not written; nothing was changed.</exception>
    public void Set(WebhookRequest asked)
    {
        var webhook = new WebhookOptions { Url = asked.Url.Trim(), OnlyWhenUnseen = asked.OnlyWhenUnseen };
        Refuse(NoticeCheck.Problems(new() { Webhook = webhook with { Secret = Blank(asked.Secret) } }, data));
        if (asked.Secret is null && settings.InFile.Webhook is { } kept)
        {
            webhook = webhook with { Secret = kept.Secret, SecretFile = kept.SecretFile };
        }

        Write(WebhookKey, SecretPurpose, Blank(asked.Secret), webhook.SecretFile,
            file => file is null ? webhook : webhook with { SecretFile = file });
    }

    /// <exception cref="BadInputException">It cannot be used, or not written; nothing was changed.</exception>
    public void Set(WebPushRequest asked)
    {
        var push = new WebPushOptions { Contact = asked.Contact.Trim(), OnlyWhenUnseen = asked.OnlyWhenUnseen };
        Refuse(NoticeCheck.Problems(new() { WebPush = push }, data));
        settings.Change((WebPushKey, Json(push)));
    }

    /// <exception cref="BadInputException">It cannot be used, or not written; nothing was changed.</exception>
    public void Set(TellingRequest asked)
    {
        if (asked.QuietFrom is null != asked.QuietTo is null)
        {
            throw BadInputException.In(asked.QuietFrom is null ? "quietFrom" : "quietTo",
                "Quiet hours need both: when they begin and when they end.");
        }

        var quiet = asked is { QuietFrom: { } from, QuietTo: { } to } ? new QuietHoursSettings { From = from, To = to } : null;
        if (quiet is not null && quiet.From == quiet.To)
        {
            throw BadInputException.In("quietTo", "Quiet hours end when they begin: write another hour, or leave both empty for none.");
        }

        var link = Blank(asked.PageLink);
        Refuse(NoticeCheck.Problems(new() { PageLink = link }, data));
        settings.Change(
            ("notices.digest", asked.DigestAt is { } at ? Json(new DigestOptions { At = at }) : null),
            ("notices.pageLink", link is null ? null : JsonValue.Create(link)),
            ("quietHours", quiet is null ? null : Json(quiet)));
    }

    /// <summary>Turns a channel off; its secret is forgotten.</summary>
    /// <param name="channel">email, webhook or webPush.</param>
    /// <exception cref="BadInputException">There is no such channel, or it cannot be written.</exception>
    public void TurnOff(string channel)
    {
        var (key, purpose) = channel switch
        {
            "email" => (EmailKey, PasswordFile),
            "webhook" => (WebhookKey, SecretPurpose),
            "webPush" => (WebPushKey, null),
            _ => throw BadInputException.Unknown($"There is no channel \"{channel}\"; there are email, webhook and webPush."),
        };
        settings.Change((key, null));
        if (purpose is not null)
        {
            SecretFile.Forget(data, purpose, except: null);
        }
    }

    private void Write<T>(string key, string purpose, string? secret, string? keptFile, Func<string?, T> options)
    {
        var file = secret is null ? null : SecretFile.Keep(data, purpose, secret);
        try
        {
            settings.Change((key, Json(options(file))));
        }
        catch (BadInputException) when (file is not null)
        {
            File.Delete(data.Resolve(file));
            throw;
        }

        SecretFile.Forget(data, purpose, file ?? keptFile);
    }

    // The field as the page and the API name it: what stands last in the key.
    private static void Refuse(IEnumerable<SettingsProblem> problems)
    {
        if (problems.FirstOrDefault() is { } problem)
        {
            var field = problem.Key[(problem.Key.LastIndexOf('.') + 1)..];
            throw BadInputException.In(field, $"{field} {problem.Fix}");
        }
    }

    private static string? Blank(string? text) => string.IsNullOrWhiteSpace(text) ? null : text.Trim();

    private static JsonNode Json<T>(T options) => JsonSerializer.SerializeToNode(options, Written)!;
}
