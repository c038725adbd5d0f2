using System.Security.Cryptography.X509Certificates;
using Chamber.Service.Configuration;
using Chamber.Service.Home.Watching;
using Chamber.Service.Notify;
using Chamber.Testing;
using MimeKit;
using SmtpServer.Protocol;

namespace Chamber.Service.Tests.Notify;

public class EmailChannelTests
{
    // The eight bytes that open every PNG file (ISO/IEC 15948, section 5.2).
    private static readonly byte[] Png = [0x89, 0x50, 0x4E, 0x47, 0x0D, 0x0A, 0x1A, 0x0A];

    [Fact]
    public async Task A_notice_arrives_as_text_and_as_HTML_with_the_plot_inline()
    {
        await using var server = MailServer.Start();

        var delivery = await SendAsync(server, SampleNotice.TooHot with { Link = "https://chamber.home:8470" },
            picture: new(Png, "From 18 to 29 °C & falling"));

        Assert.Equal(Delivery.Done, delivery);
        var mail = Assert.Single(server.Mails);
        Assert.Equal("Boiler cupboard: too hot for lettuce", mail.Subject);
        Assert.Contains("29.4 °C since 01:40.", mail.TextBody, StringComparison.Ordinal);
        var picture = Assert.Single(mail.BodyParts.OfType<MimePart>(), part => part.ContentType.MimeType == "image/png");
        Assert.Contains($"cid:{picture.ContentId}", mail.HtmlBody, StringComparison.Ordinal);
        Assert.Contains("alt=\"From 18 to 29 &#176;C &amp; falling\"", mail.HtmlBody, StringComparison.Ordinal);
        Assert.Contains("<a href=\"https://chamber.home:8470\">", mail.HtmlBody, StringComparison.Ordinal);
        Assert.EndsWith("https://chamber.home:8470", mail.TextBody!.TrimEnd(), StringComparison.Ordinal);
        Assert.Equal(["grower@example.org", "flatmate@example.org"], mail.To.Mailboxes.Select(box => box.Address));
    }

    [Fact]
    public async Task Words_from_a_probe_cannot_become_markup()
    {
        await using var server = MailServer.Start();

        await SendAsync(server, SampleNotice.TooHot with { Body = "<b>shelf</b> & sill" });

        Assert.Contains("&lt;b&gt;shelf&lt;/b&gt; &amp; sill", Assert.Single(server.Mails).HtmlBody, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_hazard_is_marked_urgent()
    {
        await using var server = MailServer.Start();

        await SendAsync(server, SampleNotice.TooHot with { Urgency = NoticeUrgency.Hazard });

        Assert.Equal(MessagePriority.Urgent, Assert.Single(server.Mails).Priority);
    }

    [Fact]
    public async Task The_right_password_is_accepted_and_a_wrong_one_is_not_tried_again()
    {
        await using var server = MailServer.Start(password: "right");

        Assert.Equal(Delivery.Done, await SendAsync(server, SampleNotice.TooHot, password: "right"));
        var refused = await SendAsync(server, SampleNotice.TooHot, password: "wrong");

        Assert.Equal(DeliveryOutcome.Refused, refused.Outcome);
        Assert.Contains("notices.email.user", refused.Reason, StringComparison.Ordinal);
        Assert.Single(server.Mails);
    }

    // RFC 5321 section 4.2.1: a 4yz reply is transient, a 5yz reply permanent.
    [Theory]
    [InlineData(SmtpReplyCode.ServiceUnavailable, DeliveryOutcome.TryLater)]
    [InlineData(SmtpReplyCode.MailboxUnavailable, DeliveryOutcome.Refused)]
    internal async Task A_reply_code_decides_whether_to_try_again(SmtpReplyCode code, DeliveryOutcome expected)
    {
        await using var server = MailServer.Start();
        server.Reply = new(code, "not now");

        Assert.Equal(expected, (await SendAsync(server, SampleNotice.TooHot)).Outcome);
    }

    [Fact]
    public async Task A_server_without_STARTTLS_gets_no_password_and_no_mail_if_it_is_asked()
    {
        await using var server = MailServer.Start();

        var delivery = await SendAsync(server, SampleNotice.TooHot, password: "right", security: MailSecurity.StartTls);

        Assert.Equal(DeliveryOutcome.Refused, delivery.Outcome);
        Assert.Contains("lacks what notices.email.security asks for", delivery.Reason, StringComparison.Ordinal);
        Assert.Empty(server.Mails);
    }

    [Fact]
    public async Task A_server_whose_certificate_nobody_vouches_for_gets_nothing()
    {
        using var folder = new TempFolder();
        using var authority = new TestAuthority(folder);
        var (file, key) = authority.Sign("127.0.0.1");
        using var pem = X509Certificate2.CreateFromPemFile(file, key);
        using var certificate = X509CertificateLoader.LoadPkcs12(pem.Export(X509ContentType.Pkcs12), null);
        await using var server = MailServer.Start(certificate: certificate);

        var delivery = await SendAsync(server, SampleNotice.TooHot, security: MailSecurity.Tls);

        Assert.Equal(DeliveryOutcome.Refused, delivery.Outcome);
        Assert.Contains("No safe connection to the mail server 127.0.0.1", delivery.Reason, StringComparison.Ordinal);
        Assert.Empty(server.Mails);
    }

    [Fact]
    public async Task A_server_that_is_away_is_tried_later_and_named()
    {
        var server = MailServer.Start();
        await server.DisposeAsync();

        var delivery = await SendAsync(server, SampleNotice.TooHot);

        Assert.Equal(DeliveryOutcome.TryLater, delivery.Outcome);
        Assert.Contains($"127.0.0.1:{server.Port}", delivery.Reason, StringComparison.Ordinal);
    }

    private static Task<Delivery> SendAsync(MailServer server, Notice notice, string? password = null, NoticePicture? picture = null,
        MailSecurity security = MailSecurity.WhenOffered) =>
        new EmailChannel(new()
        {
            Host = "127.0.0.1",
            Port = server.Port,
            Security = security,
            User = password is null ? null : "grower",
            Password = password,
            From = "chamber@example.org",
            To = ["grower@example.org", "flatmate@example.org"],
        }, _ => picture).SendAsync(notice, TestContext.Current.CancellationToken);
}
