using Chamber.Service.Configuration;
using Chamber.Service.Home.Watching;
using MailKit;
using MailKit.Net.Smtp;
using MailKit.Security;
using MimeKit;
using MimeKit.Utils;

namespace Chamber.Service.Notify;

/// <summary>Sends a notice by SMTP, as plain text and as HTML with the plot inline.</summary>
/// <param name="options">The server and the addresses, with the password in them.</param>
/// <param name="draw">Draws what belongs beside a notice; null where there is nothing to show.</param>
internal sealed class EmailChannel(EmailOptions options, Func<Notice, NoticePicture?> draw) : INoticeChannel
{
    // A mail server that does not answer must not hold up the other channels.
    private const int PatienceMilliseconds = 30_000;

    public string Name => "email";

    public bool OnlyWhenUnseen => options.OnlyWhenUnseen;

    public async Task<Delivery> SendAsync(Notice notice, CancellationToken cancellationToken)
    {
        using var message = Compose(notice);
        using var client = new SmtpClient { Timeout = PatienceMilliseconds };
        try
        {
            await client.ConnectAsync(options.Host, options.Port, SocketOptions(options.Security), cancellationToken);
            if (options.User is not null)
            {
                await client.AuthenticateAsync(options.User, options.Password ?? "", cancellationToken);
            }

            await client.SendAsync(message, cancellationToken);
            await client.DisconnectAsync(quit: true, cancellationToken);
            return Delivery.Done;
        }
        catch (AuthenticationException)
        {
            return Delivery.Never($"The mail server {options.Host} did not accept the user and password: check the user "
                + $"(notices.email.user) and the password.");
        }
        catch (SslHandshakeException exception)
        {
            return Delivery.Never($"No safe connection to the mail server {options.Host}:{options.Port}: {FirstLine(exception)} Check "
                + $"notices.email.security and the server's certificate.");
        }
        catch (SmtpCommandException exception)
        {
            return FromReply(exception);
        }
        catch (Exception exception)
            when (exception is IOException or System.Net.Sockets.SocketException or ProtocolException or TimeoutException)
        {
            return Delivery.Later($"The mail server {options.Host}:{options.Port} could not be reached: {FirstLine(exception)}");
        }
        catch (NotSupportedException exception)
        {
            return Delivery.Never(
                $"The mail server {options.Host}:{options.Port} lacks what notices.email.security asks for: {FirstLine(exception)}");
        }
    }

    internal MimeMessage Compose(Notice notice)
    {
        var message = new MimeMessage { Subject = notice.Title, Date = notice.At.ToDateTimeOffset() };
        message.From.Add(MailboxAddress.Parse(options.From));
        message.To.AddRange(options.To.Select(MailboxAddress.Parse));

        // The same notice keeps its id, so a copy sent after a lost reply is one mail in most readers.
        message.MessageId = $"{notice.Id}@chamber.invalid";
        if (notice.Urgency == NoticeUrgency.Hazard)
        {
            message.Priority = MessagePriority.Urgent;
            message.Importance = MessageImportance.High;
        }

        var body = new BodyBuilder { TextBody = notice.Link is { } link ? $"{notice.Body}\n\n{link}" : notice.Body };
        string? image = null;
        if (draw(notice) is { } picture)
        {
            var part = body.LinkedResources.Add("plot.png", picture.Png, new ContentType("image", "png"));
            part.ContentId = MimeUtils.GenerateMessageId("chamber.invalid");
            image = $"<p><img src=\"cid:{part.ContentId}\" alt=\"{Escape(picture.Alt)}\" style=\"max-width:100%\"></p>";
        }

        body.HtmlBody = Html(notice, image);
        message.Body = body.ToMessageBody();
        return message;
    }

    private static string Html(Notice notice, string? image)
    {
        var paragraphs = string.Concat(notice.Body.Split('\n', StringSplitOptions.RemoveEmptyEntries)
            .Select(line => $"<p>{Escape(line)}</p>"));
        var link = notice.Link is { } address ? $"<p><a href=\"{Escape(address)}\">{Escape(address)}</a></p>" : "";
        return $"<!doctype html><html lang=\"en\"><meta charset=\"utf-8\"><title>{Escape(notice.Title)}</title><body "
            + $"style=\"font-family:sans-serif;line-height:1.5\">{paragraphs}{image}{link}</body></html>";
    }

    private static string Escape(string text) => System.Net.WebUtility.HtmlEncode(text);

    // RFC 5321 section 4.2.1: 4yz may work later, 5yz will not.
    private Delivery FromReply(SmtpCommandException exception) =>
        (int)exception.StatusCode is >= 400 and < 500
            ? Delivery.Later($"The mail server {options.Host} said \"{FirstLine(exception)}\" and may take it later.")
            : Delivery.Never($"The mail server {options.Host} refused the mail: \"{FirstLine(exception)}\". Check notices.email.from and "
                + $"notices.email.to.");

    private static SecureSocketOptions SocketOptions(MailSecurity security) => security switch
    {
        MailSecurity.Tls => SecureSocketOptions.SslOnConnect,
        MailSecurity.StartTls => SecureSocketOptions.StartTls,
        _ => SecureSocketOptions.StartTlsWhenAvailable,
    };

    private static string FirstLine(Exception exception) => exception.Message.Split('\n')[0].Trim();
}
