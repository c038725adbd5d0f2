using NodaTime;

namespace Chamber.Service.Configuration;

/// <summary>The <c>notices</c> part of the configuration. A channel that is absent is off.</summary>
internal sealed record NoticeOptions
{
    public EmailOptions? Email { get; set; }

    public WebhookOptions? Webhook { get; set; }

    public WebPushOptions? WebPush { get; set; }

    /// <summary>The daily digest; null is none.</summary>
    public DigestOptions? Digest { get; set; }

    /// <summary>Where the page is for the people who read the notices, such as <c>https://chamber.home:8470</c>; null leaves the link
    /// out.</summary>
    public string? PageLink { get; set; }
}

/// <summary>How the connection to a mail server is protected.</summary>
internal enum MailSecurity
{
    /// <summary>STARTTLS where the server offers it, else in the clear. Only sensible on this machine or this network.</summary>
    WhenOffered,

    /// <summary>STARTTLS or nothing.</summary>
    StartTls,

    /// <summary>TLS from the first byte (usually port 465).</summary>
    Tls,
}

internal sealed record EmailOptions
{
    public string Host { get; set; } = "";

    /// <summary>1 to 65535.</summary>
    public int Port { get; set; } = 587;

    public MailSecurity Security { get; set; } = MailSecurity.StartTls;

    public string? User { get; set; }

    /// <summary>Never shown or logged. Better in <see cref="PasswordFile"/> or in CHAMBER_NOTICES__EMAIL__PASSWORD.</summary>
    public string? Password { get; set; }

    /// <summary>A file whose first line is the password; relative to the data directory.</summary>
    public string? PasswordFile { get; set; }

    public string From { get; set; } = "";

    public IReadOnlyList<string> To { get; set; } = [];

    /// <summary>Only for hazards, and for what nobody has seen though they were notified before: somebody else's address, say.</summary>
    public bool OnlyWhenUnseen { get; set; }
}

internal sealed record WebhookOptions
{
    public string Url { get; set; } = "";

    /// <summary>Shared with the receiver; each request is signed with it (HMAC-SHA256). At least <see cref="SecretLengthMin"/>
    /// characters.</summary>
    public string? Secret { get; set; }

    /// <summary>A file whose first line is the secret; relative to the data directory.</summary>
    public string? SecretFile { get; set; }

    /// <inheritdoc cref="EmailOptions.OnlyWhenUnseen"/>
    public bool OnlyWhenUnseen { get; set; }

    public const int SecretLengthMin = 16;
}

internal sealed record WebPushOptions
{
    /// <summary>How the push service can reach whoever runs this: <c>mailto:</c> or <c>https:</c>.</summary>
    public string Contact { get; set; } = "";

    /// <inheritdoc cref="EmailOptions.OnlyWhenUnseen"/>
    public bool OnlyWhenUnseen { get; set; }
}

internal sealed record DigestOptions
{
    /// <summary>When, in the home's time.</summary>
    public LocalTime At { get; set; } = new(7, 30);
}
