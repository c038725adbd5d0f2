using System.Globalization;
using Chamber.Club.Homes;
using Chamber.Club.Notices;
using Chamber.Club.Store;
using Chamber.Club.Tests.Homes;
using Chamber.Core.Alerts;
using Chamber.Core.Climate;
using Chamber.Core.Facts;
using Chamber.Core.Facts.Probes;
using Chamber.Core.Facts.Spots;
using Chamber.Core.Forecasts.Learning;
using Chamber.Testing;
using NodaTime;
using SmtpServer.Protocol;

namespace Chamber.Club.Tests.Notices;

/// <summary>A real silo notifies the people of a home by a real mail server. Readings are invented.</summary>
public sealed class HomeNoticesTests(ClubServer server) : IAsyncLifetime
{
    private const string Name = "mill-lane-4";
    private static readonly Author Ana = new("Ana", WriteWay.Page);

    private readonly MailServer mail = MailServer.Start();
    private readonly Instant now = SystemClock.Instance.GetCurrentInstant();
    private string address = "";
    private ClubDatabase? club;
    private int home;

    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    public async ValueTask InitializeAsync()
    {
        address = await server.Address();
        club = ClubDatabase.Open(address);
        home = await club.AddHomeAsync(Name, Stop);
        var at = now - Duration.FromDays(1);
        await club.Home(home).WriteAsync(Ana, at, _ => [.. ((string[])["shelf", "mat"]).SelectMany(spot => (DatedFact[])
        [
            new SpotSetUp(new(spot)).At(at), new ProbeSetUp(new($"{spot}-soil"), Measurand.Media).At(at),
            new ProbePlaced(new($"{spot}-soil"), new(spot)).At(at),
        ])], Stop);
        Assert.StartsWith("Notices of mill-lane-4 go to ana@example.org.", await Club("address", "add", Name, "ana@example.org"),
            StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_is_told_is_mailed_once_though_the_silo_is_killed()
    {
        await Heat("shelf");
        await using var one = await Silo();
        await using var other = await Silo();
        await SiloProcess.Show(address, Name);
        var first = await mail.Next();
        Assert.StartsWith("mill-lane-4: ", first.Subject, StringComparison.Ordinal);
        Assert.Contains("shelf", first.Subject, StringComparison.Ordinal);
        Assert.Equal("ana@example.org", first.To.Mailboxes.Single().Address);
        Assert.Contains("https://club.example/homes/mill-lane-4/", first.TextBody, StringComparison.Ordinal);

        // A mail that is handed over in the moment of the kill comes again, under the same name: that is not asked here.
        await Wait.Until("an empty outbox", async () => await Waiting() == 0 ? Name : null);
        await (one.Output.Contains(", shelf.", StringComparison.Ordinal) ? one : other).Kill();

        await Heat("mat");
        await SiloProcess.Show(address, Name);
        await Wait.Until("the mail about the mat", async () =>
            (await mail.Next()).Subject?.Contains("mat", StringComparison.Ordinal) == true ? Name : null);
        await Wait.Until("an empty outbox", async () => await Waiting() == 0 ? Name : null);
        var sent = mail.Mails.Select(message => message.MessageId).ToList();
        Assert.Equal(sent.Distinct(), sent);
    }

    [Fact]
    public async Task What_the_mail_server_refuses_waits_or_is_told()
    {
        var wrong = await RunningProgram.Run(SiloProcess.Club, ["address", "add", Name, "somewhere", "--database", address]);
        Assert.Equal((2, "\"somewhere\" is no e-mail address, such as ana@example.org."), (wrong.ExitCode, wrong.Errors.Trim()));
        mail.Reply = SmtpResponse.MailboxUnavailable;
        await Heat("shelf");
        await using (var silo = await Silo())
        {
            await SiloProcess.Show(address, Name);
            await silo.Line("a notice was not sent");
            await Leave(silo);
        }

        var list = await Wait.Until("the reason", async () =>
            await Club("address", "list", Name) is var shown && shown.Contains("Not sent to", StringComparison.Ordinal) ? shown : null);
        Assert.Contains("Not sent to ana@example.org: mill-lane-4: ", list, StringComparison.Ordinal);
        Assert.Contains("refused the mail", list, StringComparison.Ordinal);

        mail.Reply = new(SmtpReplyCode.InsufficientStorage, "later");
        await Heat("mat");
        await using (var silo = await Silo())
        {
            await SiloProcess.Show(address, Name);
            await silo.Line("may take it later");
            await Leave(silo);
        }

        Assert.NotEqual(0, await Waiting());
        await Club("address", "remove", Name, "ana@example.org");
        Assert.Equal(0, await Waiting());
        Assert.Equal("Nobody gets notices of mill-lane-4: chamber-club address add mill-lane-4 MAIL",
            (await Club("address", "list", Name)).Trim());
    }

    [Fact]
    public async Task Who_gives_an_address_later_hears_of_what_is_open()
    {
        await Club("address", "remove", Name, "ana@example.org");
        var alert = new AlertEntry(0, AlertKind.TooHot, new(SubjectKind.Spot, "shelf"), Severity.Warning, now, now, "{}");
        await club!.AsAsync(home, session => AlertRows.SaveAsync(session, home, alert, 0), Stop);
        var notices = new HomeNotices(club, new(new(), null), home, Name);
        Assert.Equal(0, await notices.DecideAsync(new(), SettingRows.Of(null), now, Stop));
        await Club("address", "add", Name, "ben@example.org");
        Assert.Equal(1, await notices.DecideAsync(new(), SettingRows.Of(null), now, Stop));
        Assert.Equal(0, await notices.DecideAsync(new(), SettingRows.Of(null), now, Stop));
    }

    // 23:00 in Chicago is 05:00 UTC; the digest of a day is due at its hour there.
    [Fact]
    public async Task Quiet_hours_and_digest_are_those_of_the_home()
    {
        var settings = SettingRows.Checked("""
            { "home": { "zone": "America/Chicago" }, "quietHours": { "from": "22:00", "to": "06:00" }, "notices": { "digest": { "at": "07:30" } } }
            """);
        var night = Instant.FromUtc(2026, 3, 2, 5, 0);
        var morning = Instant.FromUtc(2026, 3, 2, 13, 31);
        HomeFacts facts = new() { Zone = settings.Zone };
        await Open(AlertKind.TooHot, Severity.Warning, night);
        var notices = new HomeNotices(club!, new(new(), null), home, Name);
        Assert.Equal(0, await notices.DecideAsync(facts, settings, night, Stop));
        await Open(AlertKind.Hazard, Severity.Danger, night);
        Assert.Equal(1, await notices.DecideAsync(facts, settings, night, Stop));

        // What waited for the morning, and the hazard once more, which nobody has seen.
        Assert.Equal(2, await notices.DecideAsync(facts, settings, morning, Stop));

        Assert.Null(notices.DigestDueAt(settings, night));
        Assert.Null(notices.DigestDueAt(SettingRows.Of(null), morning));
        var due = notices.DigestDueAt(settings, morning)!.Value;
        Assert.Equal(new(2026, 3, 2), due);
        var reader = new HomeInsight(club!, home, () => FactLog.Of([]), _ => Task.FromResult<SharedKnowledge?>(null)).ReadAt(morning);
        var before = await Waiting();
        await notices.DigestAsync(reader, due, morning, Stop);
        Assert.Null(notices.DigestDueAt(settings, morning));

        // A silo that takes the home over does not send it once more.
        await new HomeNotices(club!, new(new(), null), home, Name).DigestAsync(reader, due, morning, Stop);
        Assert.Equal(before + 1, await Waiting());
    }

    private Task<(long Number, bool IsNew)> Open(AlertKind kind, Severity severity, Instant at) => club!.AsAsync(
        home,
        session => AlertRows.SaveAsync(
            session, home, new AlertEntry(0, kind, new(SubjectKind.Spot, "shelf"), severity, at, at, "{}"), 0),
        Stop);

    public async ValueTask DisposeAsync()
    {
        await club!.DisposeAsync();
        await mail.DisposeAsync();
    }

    private async Task<string> Club(params string[] words) =>
        (await RunningProgram.Run(SiloProcess.Club, [.. words, "--database", address])).Succeeded();

    private Task<RunningProgram> Silo() => SiloProcess.Silo(address, "--mail-host", "127.0.0.1", "--mail-port",
        mail.Port.ToString(CultureInfo.InvariantCulture), "--mail-security", "WhenOffered", "--mail-from", "club@example.org",
        "--page-link", "https://club.example");

    // In order, so that the next silo need not wait until this one is given up.
    private static async Task Leave(RunningProgram silo)
    {
        silo.PressControlC();
        await silo.End();
    }

    private Task<long> Waiting() => club!.AsAsync(home, session => NoticeRows.WaitingAsync(session, home), Stop);

    private async Task Heat(string spot) => await club!.Home(home).AppendAsync(
        [.. Enumerable.Range(0, 60).Select(i => new Reading(
            new($"{spot}-soil"), now - Duration.FromSeconds(600 - 10 * i), now, Temperature.FromCelsius(44 + i % 10 / 10.0)))],
        [], [], Stop);
}
