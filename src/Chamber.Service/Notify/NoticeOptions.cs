namespace Chamber.Service.Notify;

/// <summary>The <c>notices</c> part of the configuration. A channel that is absent is off.</summary>
internal sealed class NoticeOptions
{
    public EmailOptions? Email { get; init; }

    public WebhookOptions? Webhook { get; init; }

    public WebPushOptions? WebPush { get; init; }
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

internal sealed class EmailOptions
{
    public string Host { get; init; } = "";

    /// <summary>1 to 65535.</summary>
    public int Port { get; init; } = 587;

    public MailSecurity Security { get; init; } = MailSecurity.StartTls;

    public string? User { get; init; }

    public string? Password { get; init; }

    public string From { get; init; } = "";

    public IReadOnlyList<string> To { get; init; } = [];
}

internal sealed class WebhookOptions
{
    public string Url { get; init; } = "";

    /// <summary>Shared with the receiver; each request is signed with it (HMAC-SHA256). At least 16 characters.</summary>
    public string? Secret { get; init; }
}

internal sealed class WebPushOptions
{
    /// <summary>How the push service can reach whoever runs this: <c>mailto:</c> or <c>https:</c>.</summary>
    public string Contact { get; init; } = "";
}
