using Chamber.Service.Configuration;
using Chamber.Service.Notify;
using Chamber.Testing;
using NodaTime;

namespace Chamber.Service.Tests.Notify;

/// <summary>What is set up on the page, with its real files. Ports are those of mail submission (RFC 6409, RFC 8314); the rest is
/// invented.</summary>
public sealed class NoticeSetUpTests : IDisposable
{
    private const string Password = "wet seed, warm feet";

    private static readonly EmailRequest Mail = new("smtp.example.org", "chamber@example.org", ["you@example.org"], User: "you",
        Password: Password);

    private readonly TempFolder folder = new();
    private readonly DataDirectory data;

    public NoticeSetUpTests() => data = new(folder.Path);

    public void Dispose() => folder.Dispose();

    [Fact]
    public void Mail_works_at_once_and_its_password_file_is_readable_by_its_owner_only()
    {
        folder.Write("chamber.json", """{ "units": "F" /* as grandmother cooked */ }""");
        var settings = Settings();
        var told = 0;
        settings.Changed += () => told++;

        new NoticeSetUp(settings, data).Set(Mail);

        Assert.Equal(1, told);
        Assert.All([settings.Notices.Email!, SettingsFile.Load(data, []).Notices.Email!], email =>
        {
            Assert.Equal(("smtp.example.org", 587, MailSecurity.StartTls, "you", "you@example.org"),
                (email.Host, email.Port, email.Security, email.User, Assert.Single(email.To)));
            Assert.Equal(Password, SecretFile.Read(data.Resolve(email.PasswordFile!)));
        });
        Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite,
            File.GetUnixFileMode(data.Resolve(settings.Notices.Email!.PasswordFile!)));
        var text = File.ReadAllText(data.Settings);
        Assert.Contains("/* as grandmother cooked */", text, StringComparison.Ordinal);
        Assert.DoesNotContain(Password, text, StringComparison.Ordinal);
        Assert.DoesNotContain(Password, new NoticeSetUp(settings, data).Read().ToString(), StringComparison.Ordinal);
        Assert.True(new NoticeSetUp(settings, data).Read().Email!.PasswordKept);
    }

    [Fact]
    public void A_password_not_typed_again_stays_and_a_new_one_leaves_no_old_file()
    {
        var settings = Settings();
        var setUp = new NoticeSetUp(settings, data);
        setUp.Set(Mail);
        var first = settings.Notices.Email!.PasswordFile!;

        setUp.Set(Mail with { Password = null, To = ["you@example.org", " flatmate@example.org "] });
        Assert.Equal((first, 2), (settings.Notices.Email!.PasswordFile, settings.Notices.Email.To.Count));
        Assert.True(File.Exists(data.Resolve(first)));

        setUp.Set(Mail with { Password = "another" });
        Assert.Equal("another", SecretFile.Read(data.Resolve(settings.Notices.Email!.PasswordFile!)));
        Assert.False(File.Exists(data.Resolve(first)));

        setUp.TurnOff("email");
        Assert.Null(settings.Notices.Email);
        Assert.Equal([data.Settings], Directory.GetFiles(folder.Path));
    }

    [Theory]
    [InlineData("evil.example", 587, "you")]
    [InlineData("smtp.example.org", 2525, "you")]
    [InlineData("smtp.example.org", 587, "eve")]
    public void The_kept_password_is_not_sent_to_another_server_or_for_another_user(string host, int port, string user)
    {
        var settings = Settings();
        var setUp = new NoticeSetUp(settings, data);
        setUp.Set(Mail);

        var problem = Assert.Throws<BadInputException>(
            () => setUp.Set(Mail with { Host = host, Port = port, User = user, Password = null }));

        Assert.Equal("password", problem.Field);
        Assert.Equal("smtp.example.org", settings.Notices.Email!.Host);
    }

    [Fact]
    public void A_kept_password_is_not_sent_over_a_connection_that_is_less_protected()
    {
        var setUp = new NoticeSetUp(Settings(), data);
        setUp.Set(Mail);

        Assert.Throws<BadInputException>(() => setUp.Set(Mail with { Security = MailSecurity.WhenOffered, Password = null }));
    }

    [Fact]
    public void A_password_that_somebody_wrote_into_the_settings_stays_there()
    {
        folder.Write("chamber.json",
            """{ "notices": { "email": { "host": "smtp.example.org", "from": "a@b.example", "to": ["a@b.example"], "user": "you", "password": "by hand" } } }""");
        var settings = Settings();

        new NoticeSetUp(settings, data).Set(Mail with { Password = null });

        Assert.Equal(("by hand", "you@example.org"), (settings.Notices.Email!.Password, settings.Notices.Email.To[0]));
    }

    [Fact]
    public void A_webhook_keeps_its_secret_until_it_is_told_to_sign_no_more()
    {
        var settings = Settings();
        var setUp = new NoticeSetUp(settings, data);
        setUp.Set(new WebhookRequest("https://box.home/chamber", "sixteen characters"));
        Assert.Equal("sixteen characters", SecretFile.Read(data.Resolve(settings.Notices.Webhook!.SecretFile!)));

        setUp.Set(new WebhookRequest("https://box.home/other"));
        Assert.True(setUp.Read().Webhook!.SecretKept);
        setUp.Set(new WebhookRequest("https://box.home/other", ""));

        Assert.False(setUp.Read().Webhook!.SecretKept);
        Assert.Equal([data.Settings], Directory.GetFiles(folder.Path));
    }

    [Fact]
    public void Hours_and_link_are_set_and_taken_away()
    {
        var settings = Settings();
        var setUp = new NoticeSetUp(settings, data);
        setUp.Set(new TellingRequest(new(8, 15), new(21, 0), new(6, 30), "https://chamber.home:8470"));
        Assert.Equal((new LocalTime(8, 15), new LocalTime(21, 0), "https://chamber.home:8470"),
            (settings.Notices.Digest!.At, settings.QuietHours!.From, settings.Notices.PageLink));
        Assert.Equal(new LocalTime(6, 30), SettingsFile.Load(data, []).QuietHours!.To);

        setUp.Set(new TellingRequest());

        Assert.Equal((null, null, null), (settings.Notices.Digest, settings.QuietHours, settings.Notices.PageLink));
    }

    public static TheoryData<string, string> Refused => new()
    {
        { "host", "host is missing" },
        { "from", "from \"chamber@\" is not a mail address" },
        { "to", "to is empty" },
        { "port", "port 70000 is not a port" },
    };

    [Theory]
    [MemberData(nameof(Refused))]
    public void What_cannot_work_is_refused_by_its_field_and_leaves_no_trace(string field, string words)
    {
        var asked = field switch
        {
            "host" => Mail with { Host = " " },
            "from" => Mail with { From = "chamber@" },
            "to" => Mail with { To = [""] },
            _ => Mail with { Port = 70000 },
        };

        var problem = Assert.Throws<BadInputException>(() => new NoticeSetUp(Settings(), data).Set(asked));

        Assert.Equal(field, problem.Field);
        Assert.StartsWith(words, problem.Message, StringComparison.Ordinal);
        Assert.Empty(Directory.GetFiles(folder.Path));
    }

    [Fact]
    public void Other_things_that_are_refused_say_the_fix()
    {
        var setUp = new NoticeSetUp(Settings(), data);
        Assert.Contains("at least 16", Refusal(() => setUp.Set(new WebhookRequest("https://box.home/", "short"))),
            StringComparison.Ordinal);
        Assert.Contains("is not a web address", Refusal(() => setUp.Set(new WebhookRequest("box"))), StringComparison.Ordinal);
        Assert.Contains("mailto:", Refusal(() => setUp.Set(new WebPushRequest("me"))), StringComparison.Ordinal);
        Assert.Contains("need both", Refusal(() => setUp.Set(new TellingRequest(QuietFrom: new(1, 0)))), StringComparison.Ordinal);
        Assert.Contains("end when they begin", Refusal(() => setUp.Set(new TellingRequest(QuietFrom: new(1, 0), QuietTo: new(1, 0)))),
            StringComparison.Ordinal);
        Assert.Contains("There is no channel", Refusal(() => setUp.TurnOff("pigeon")), StringComparison.Ordinal);
        Assert.Contains("one line", Refusal(() => setUp.Set(Mail with { Password = "a\nb" })), StringComparison.Ordinal);
        Assert.Empty(Directory.GetFiles(folder.Path));
    }

    [Fact]
    public void What_the_environment_decides_is_changed_there()
    {
        var settings = Settings(new("CHAMBER_NOTICES__EMAIL__HOST", "other"), new("CHAMBER_NOTICES__EMAIL__FROM", "a@b.example"),
            new("CHAMBER_NOTICES__EMAIL__TO", "[\"a@b.example\"]"));

        Assert.Contains("CHAMBER_NOTICES__EMAIL__", Refusal(() => new NoticeSetUp(settings, data).Set(Mail)), StringComparison.Ordinal);
        Assert.Empty(Directory.GetFiles(folder.Path));
    }

    [Fact]
    public void A_secret_may_come_from_the_environment_while_the_rest_is_set_here()
    {
        var settings = Settings(new("CHAMBER_NOTICES__WEBHOOK__SECRET", "sixteen characters"),
            new("CHAMBER_NOTICES__WEBHOOK__URL", "http://unused/"));
        Assert.Contains("CHAMBER_NOTICES__WEBHOOK__URL",
            Refusal(() => new NoticeSetUp(settings, data).Set(new WebhookRequest("https://box.home/"))), StringComparison.Ordinal);

        folder.Write("chamber.json", """{ "notices": { "webhook": { "url": "http://old/" } } }""");
        settings = Settings(new KeyValuePair<string, string>("CHAMBER_NOTICES__WEBHOOK__SECRET", "sixteen characters"));
        new NoticeSetUp(settings, data).Set(new WebhookRequest("https://box.home/"));

        Assert.Equal(("https://box.home/", "sixteen characters"), (settings.Notices.Webhook!.Url, settings.Notices.Webhook.Secret));
        Assert.DoesNotContain("sixteen", File.ReadAllText(data.Settings), StringComparison.Ordinal);
    }

    [Fact]
    public void Settings_that_somebody_broke_by_hand_meanwhile_are_not_written_over()
    {
        var settings = Settings();
        folder.Write("chamber.json", """{ "untis": "F" }""");

        Assert.Contains("untis is not a setting", Refusal(() => new NoticeSetUp(settings, data).Set(Mail)), StringComparison.Ordinal);
        Assert.Equal("""{ "untis": "F" }""", File.ReadAllText(data.Settings));
        Assert.Equal([data.Settings], Directory.GetFiles(folder.Path));
    }

    [Fact]
    public void A_file_that_cannot_be_replaced_is_told_and_nothing_changes()
    {
        var settings = Settings();

        // Neither root nor anybody else can rename a file over a folder.
        Directory.CreateDirectory(Path.Combine(data.Settings, "in the way"));

        Assert.Contains("cannot be", Refusal(() => new NoticeSetUp(settings, data).Set(Mail)), StringComparison.Ordinal);
        Assert.Null(settings.Notices.Email);
        Assert.Empty(Directory.GetFiles(folder.Path));
    }

    private static string Refusal(Action change) => Assert.Throws<BadInputException>(change).Message;

    private SettingsInForce Settings(params KeyValuePair<string, string>[] environment) =>
        new(SettingsFile.Load(data, environment), data, environment);
}
