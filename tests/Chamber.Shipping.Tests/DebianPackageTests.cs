using System.Globalization;
using Chamber.Shipping.Tests.Rig;
using Chamber.Testing;

namespace Chamber.Shipping.Tests;

/// <summary>The package is installed by dpkg itself, and its service runs as the unit says, under the unit's user, told by the unit's
/// socket.</summary>
public sealed class DebianPackageTests(Shipped shipped, InstalledPackage package) : IClassFixture<InstalledPackage>
{
    [Fact]
    public async Task The_service_runs_as_its_own_user_says_it_is_ready_and_stops_tidily()
    {
        using var manager = new NotifySocket();
        await using var service = await Start(manager);
        await manager.Hears("READY=1", TestContext.Current.CancellationToken);
        await manager.Hears("WATCHDOG=1", TestContext.Current.CancellationToken);
        Assert.Equal(Uid, UidOf(service.Id));
        Assert.Contains("NoNewPrivs:\t1", await File.ReadAllTextAsync($"/proc/{service.Id}/status", TestContext.Current.CancellationToken),
            StringComparison.Ordinal);

        service.AskToStop();
        await manager.Hears("STOPPING=1", TestContext.Current.CancellationToken);
        Assert.Equal(0, (await service.End()).ExitCode);
        Assert.True(File.Exists(package.File("var/lib/chamber/chamber.db")));
    }

    [Fact]
    public async Task The_unit_is_sound_and_exposes_little()
    {
        // ExecStart is looked for from the root of the machine.
        var unit = package.File("chamber.service");
        await File.WriteAllTextAsync(unit, (await File.ReadAllTextAsync(package.Unit, TestContext.Current.CancellationToken))
            .Replace("=/usr/lib", $"={package.Root}/usr/lib", StringComparison.Ordinal), TestContext.Current.CancellationToken);
        var verdict = await RunningProgram.Run("systemd-analyze", ["verify", "--man=no", unit]);
        Assert.DoesNotContain("chamber.service", verdict.Output + verdict.Errors, StringComparison.Ordinal);

        // "OK" begins under 5.0 of 10; threshold is in tenths.
        (await RunningProgram.Run("systemd-analyze", ["security", "--offline=true", "--threshold=20", "--no-pager", package.Unit]))
            .Succeeded();
    }

    /// <summary>
    /// A call that the unit refuses and the runtime needs stops the service at its start, and no other check sees it: the runtime's
    /// collector asks for a processor by sched_setaffinity.
    /// </summary>
    [Fact]
    public async Task The_main_job_works_without_the_system_calls_that_the_unit_refuses()
    {
        var confined = package.File("confined");
        await SystemCallFilter.Wrap(confined, package.Program, package.SaysInTurn("SystemCallFilter"),
            package.Says("SystemCallErrorNumber"));
        await MainJob.Do(confined);
    }

    [Fact]
    public async Task What_the_unit_refuses_is_refused_indeed()
    {
        var confined = package.File("confined");
        await SystemCallFilter.Wrap(confined, "/bin/nice", package.SaysInTurn("SystemCallFilter"), package.Says("SystemCallErrorNumber"));
        Assert.Contains("Operation not permitted", (await RunningProgram.Run(confined, ["-n", "5", "true"])).Errors,
            StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("Type", "notify")]
    [InlineData("User", "chamber")]
    [InlineData("StateDirectory", "chamber")]
    [InlineData("NoNewPrivileges", "yes")]
    [InlineData("ProtectSystem", "strict")]
    [InlineData("PrivateTmp", "yes")]
    [InlineData("MemoryMax", "1G")]
    [InlineData("TasksMax", "256")]
    [InlineData("Restart", "on-failure")]
    [InlineData("RestartPreventExitStatus", "2")]
    [InlineData("WatchdogSec", "120")]
    [InlineData("TimeoutStartSec", "300")]
    [InlineData("TimeoutStopSec", "30")]
    [InlineData("StateDirectoryMode", "0700")]
    [InlineData("UMask", "0077")]
    [InlineData("WantedBy", "multi-user.target")]
    public void The_unit_keeps_what_was_promised(string key, string value) => Assert.Equal(value, package.Says(key));

    [Theory]
    [InlineData("usr/share/bash-completion/completions/chamber")]
    [InlineData("usr/share/zsh/vendor-completions/_chamber")]
    [InlineData("usr/share/fish/vendor_completions.d/chamber.fish")]
    public void Shells_find_their_completion(string path) =>
        Assert.Contains("[suggest:", File.ReadAllText(package.File(path)), StringComparison.Ordinal);

    [Fact]
    public void Its_documents_link_only_to_what_is_in_it()
    {
        var folder = package.File("usr/share/doc/chamber");
        var documents = Directory.EnumerateFiles(folder, "*.md", SearchOption.AllDirectories)
            .Select(path => Path.GetRelativePath(folder, path)).ToList();
        Assert.Contains("docs/mirror.md", documents);
        Assert.Empty(MarkdownLinks.Dead(folder, documents));
    }

    [Fact]
    public async Task Its_manual_page_can_be_read()
    {
        var shown = await RunningProgram.Run("man", ["--warnings", "--local-file", package.File("usr/share/man/man1/chamber.1.gz")]);
        Assert.Equal((0, ""), (shown.ExitCode, shown.Errors));
        Assert.Contains("chamber forecast", shown.Output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Debians_own_checker_finds_nothing_in_it() => Assert.Equal("", (await RunningProgram.Run("lintian",
        ["--allow-root", "--fail-on", "error,warning", shipped.DebianPackage])).Succeeded().Trim());

    /// <summary>Files belong to root and nobody else may write them, so that the service cannot change its own program; everybody may read
    /// them, and only what is a program can be run.</summary>
    [Fact]
    public async Task Everybody_may_read_what_is_in_it_and_nobody_change_it()
    {
        var listing = (await RunningProgram.Run("dpkg-deb", ["--contents", shipped.DebianPackage])).Succeeded();
        Assert.All(listing.Split('\n', StringSplitOptions.RemoveEmptyEntries), line =>
        {
            Assert.Contains(" root/root ", line, StringComparison.Ordinal);
            Assert.True(line[0] == 'l' || (line[5] == '-' && line[8] == '-' && line[7] == 'r'), line);
            Assert.Equal(line[0] != '-' || line.EndsWith("/chamber/chamber", StringComparison.Ordinal), line[9] == 'x');
        });
    }

    private string Uid => Environment.IsPrivilegedProcess ? package.Account("chamber").User : UidOf(Environment.ProcessId);

    private static string UidOf(int process) =>
        File.ReadAllLines(FormattableString.Invariant($"/proc/{process}/status"))
            .Single(line => line.StartsWith("Uid:", StringComparison.Ordinal)).Split('\t')[1];

    private async Task<RunningProgram> Start(NotifySocket manager)
    {
        var state = package.File("var/lib/chamber");
        await File.WriteAllTextAsync(Path.Combine(state, "chamber.json"),
            $$"""{ "page": { "port": {{FreePort.Next()}} }, "broker": { "listen": [{ "port": {{FreePort.Next()}} }] } }""");
        var command = package.Says("ExecStart").Split(' ').Select(word => word.StartsWith('/') ? package.Root + word : word);

        // Only root may become another user; anybody else runs it as themselves.
        string[] drop = ["setpriv", "--no-new-privs"];
        if (Environment.IsPrivilegedProcess)
        {
            var (user, group) = package.Account(package.Says("User"));
            (await RunningProgram.Run("chown", ["-R", $"{user}:{group}", state])).Succeeded();
            drop = [.. drop, "--reuid", user, "--regid", group, "--clear-groups"];
        }

        // As systemd hands them to a service; a shorter watchdog than the unit's, so that it is heard soon.
        var given = new Dictionary<string, string?>
        {
            ["NOTIFY_SOCKET"] = manager.Path,
            ["WATCHDOG_USEC"] = TimeSpan.FromSeconds(1).TotalMicroseconds.ToString(CultureInfo.InvariantCulture),
            ["HOME"] = state,
            ["DOTNET_ROOT"] = null,
            ["CHAMBER_DATA"] = null,
        };
        return RunningProgram.Start(drop[0], [.. drop[1..], "--", .. command], environment: given);
    }
}
