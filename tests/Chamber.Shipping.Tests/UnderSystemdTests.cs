using Chamber.Shipping.Tests.Rig;
using Chamber.Testing;

namespace Chamber.Shipping.Tests;

/// <summary>
/// The package under systemd itself, on a machine of its own: installed, broken and healed. Where a machine allows no namespaces to its
/// tests, none of this runs and each says so as a warning; <see cref="DebianPackageTests"/> then shows what can be shown without.
/// </summary>
public sealed class UnderSystemdTests(Shipped shipped, OwnMachine machine) : IClassFixture<OwnMachine>
{
    private const string Folder = "/var/lib/chamber";
    private const string Live = "curl -fs http://127.0.0.1:8470/health/live";
    private const string Probes = "curl -fs http://127.0.0.1:8470/api/probes";

    [Fact]
    public Task Installed_it_runs_within_its_bounds_and_stores_readings() => Play(async () =>
    {
        Assert.Equal("active\nenabled", await machine.Ask("systemctl is-active chamber; systemctl is-enabled chamber"));
        Assert.Equal("chamber", await machine.Ask("ps -o user= -p $(systemctl show -p MainPID --value chamber)"));
        Assert.Equal("1073741824\n256", await machine.Ask(
            "cat /sys/fs/cgroup/memory/system.slice/chamber.service/memory.limit_in_bytes"
                + " /sys/fs/cgroup/pids/system.slice/chamber.service/pids.max"));
        await Send(21.5);
        Assert.Contains("21.5", await machine.Ask(Probes), StringComparison.Ordinal);
        Assert.Equal("700", await machine.Ask($"stat -c %a {Folder}"));
        Assert.Equal("", await machine.Ask($"find {Folder} -mindepth 1 -perm /077"));
    });

    [Fact]
    public Task Killed_it_is_started_again_with_all_that_it_acknowledged() => Play(async () =>
    {
        await Send(22.5);
        await machine.Ask("systemctl kill --signal=KILL --kill-who=main chamber");
        await StartedAgain();
        Assert.Contains("22.5", await machine.Ask(Probes), StringComparison.Ordinal);
    });

    [Fact]
    public Task Hung_it_is_ended_by_the_watchdog_and_started_again() => Play(async () =>
    {
        await machine.Ask("systemctl kill --signal=STOP --kill-who=main chamber");
        await StartedAgain();
        Assert.Contains("Watchdog timeout", await Journal(), StringComparison.Ordinal);
    }, "WatchdogSec=6\nTimeoutAbortSec=1");

    [Fact]
    public Task Without_the_memory_it_needs_it_alone_ends_and_is_tried_again() => Play(async () =>
    {
        await machine.Ask("systemctl stop chamber");
        await Settle("MemoryMax=20M");
        await machine.Run("systemctl start --no-block chamber");
        await machine.Until("a start that failed", "[ $(systemctl show -p NRestarts --value chamber) -ge 1 ]");
        Assert.Equal("running", (await machine.Run("systemctl is-system-running")).Output.Trim());

        await Settle("");
        await machine.Until("it to be there again", Live);
    });

    [Fact]
    public Task A_port_that_is_taken_is_told_and_it_starts_once_it_is_free() => Play(async () =>
    {
        await machine.Ask("systemctl stop chamber && systemd-run --quiet --unit=other python3 -m http.server 1883 --bind 127.0.0.1");
        await machine.Until("the other to listen", "curl -fs http://127.0.0.1:1883");
        Assert.NotEqual(0, (await machine.Run("systemctl start chamber")).ExitCode);
        Assert.Contains("another broker may run there; join it, or choose another port.", await Journal(), StringComparison.Ordinal);

        await machine.Ask("systemctl stop other");
        await machine.Until("it to be there again", Live);
    });

    [Fact]
    public Task Broken_settings_stop_a_first_start_and_no_later_one() => Play(async () =>
    {
        await machine.Ask($"systemctl stop chamber && find {Folder} -mindepth 1 -delete");
        await Write("chamber.json", """{ "broker": {""");
        Assert.NotEqual(0, (await machine.Run("systemctl start chamber")).ExitCode);
        Assert.Equal("failed\n2\n0", await machine.Ask(
            "systemctl show -p ActiveState --value chamber; systemctl show -p ExecMainStatus --value chamber;"
                + " systemctl show -p NRestarts --value chamber"));

        await Write("chamber.json", """{ "units": "F" }""");
        await machine.Ask("systemctl start chamber && systemctl stop chamber");
        await Write("chamber.json", """{ "broker": {""");
        await machine.Ask("systemctl start chamber");
        Assert.Contains("The settings of the last good start are in force", await Journal(), StringComparison.Ordinal);
    });

    [Fact]
    public Task On_a_full_disk_readings_wait_until_there_is_room() => Play(async () =>
    {
        await machine.Ask($"systemctl stop chamber && mount -t tmpfs -o size=8m,mode=700,uid=chamber,gid=chamber small {Folder}"
            + " && systemctl start chamber");
        await machine.Run($"dd if=/dev/zero of={Folder}/ballast bs=4k");
        await machine.Ask("systemd-run --quiet --unit=sensor mosquitto_pub -h 127.0.0.1 -q 1 -t chamber/p1/reading"
            + " -m '{ \"temperature\": 21.5 }' --repeat 100 --repeat-delay 0");
        await machine.Until("the full disk to be told", "curl -s http://127.0.0.1:8470/health | grep 'the disk is full'");
        Assert.Equal("active", await machine.Ask("systemctl is-active sensor"));

        await machine.Ask($"rm {Folder}/ballast");
        await machine.Until("all to be acknowledged", "! systemctl is-active sensor && ! systemctl is-failed sensor");
        Assert.Contains("21.5", await machine.Ask(Probes), StringComparison.Ordinal);
    });

    [Fact]
    public Task Another_disk_takes_backups_once_the_unit_names_it() => Play(async () =>
    {
        await machine.Ask("mkdir -p /mnt/stick && chown chamber /mnt/stick");
        const string backUp = "nsenter --mount --target $(systemctl show -p MainPID --value chamber) runuser -u chamber --"
            + $" chamber backup /mnt/stick/copy.db --data {Folder}";
        Assert.Contains("Read-only file system", (await machine.Run(backUp)).Errors, StringComparison.Ordinal);

        await Settle("ReadWritePaths=/mnt/stick");
        await machine.Ask("systemctl restart chamber");
        await machine.Ask(backUp);
    });

    [Fact]
    public Task An_upgrade_starts_nothing_that_was_stopped_and_a_purge_keeps_data() => Play(async () =>
    {
        await machine.Ask("systemctl disable --now chamber");
        await Install();
        Assert.Equal("inactive\ndisabled", (await machine.Run("systemctl is-active chamber; systemctl is-enabled chamber")).Output.Trim());

        // Stopped for now only: on from the next start of the machine.
        await machine.Ask("systemctl enable chamber");
        await Install();
        Assert.Equal("inactive\nenabled", (await machine.Run("systemctl is-active chamber; systemctl is-enabled chamber")).Output.Trim());

        await machine.Ask("systemctl start chamber");
        var before = await machine.Ask("systemctl show -p MainPID --value chamber");
        await Install();
        await machine.Ask(Live);
        Assert.NotEqual(before, await machine.Ask("systemctl show -p MainPID --value chamber"));

        await machine.Ask("dpkg --no-triggers --purge chamber");
        Assert.Equal("", await machine.Ask("pgrep -x chamber || true"));
        await machine.Ask($"test -e {Folder}/chamber.db && ! systemctl cat chamber");
    });

    /// <summary>As the container asks: the line of its file, with the page open to the home and without.</summary>
    [Fact]
    public Task The_containers_question_of_health_fails_once_it_has_stopped() => Play(async () =>
    {
        const string health = "HEALTHCHECK";
        var ask = File.ReadLines(SourceTree.Path("eng", "Containerfile")).Single(line => line.StartsWith(health, StringComparison.Ordinal))
            .Split(" CMD ")[1];
        await machine.Ask(ask);
        await machine.Ask("systemctl stop chamber");
        Assert.NotEqual(0, (await machine.Run(ask)).ExitCode);

        await Write("chamber.json", """{ "page": { "address": "0.0.0.0" } }""");
        await machine.Ask("systemctl start chamber");
        Assert.NotEqual(0, (await machine.Run(Live)).ExitCode);
        await machine.Ask(ask);
    });

    // Installed where it is not, with an empty data directory and no changes to the unit but these.
    private async Task Play(Func<Task> story, string unit = "")
    {
        if (machine.WhyNot is { } reason)
        {
            TestContext.Current.AddWarning($"Not run under systemd: {reason}.");
            return;
        }

        await machine.Run($"systemctl stop chamber other sensor; systemctl reset-failed; umount -q {Folder}; find {Folder} -mindepth 1 -delete");
        if ((await machine.Run("dpkg --status chamber")).ExitCode != 0)
        {
            await Install();
            Assert.Equal("active\nenabled", await machine.Ask("systemctl is-active chamber; systemctl is-enabled chamber"));
        }

        await Settle(unit);
        await machine.Ask("systemctl enable chamber && systemctl restart chamber");
        await story();
    }

    private Task<string> Install() => machine.Ask($"dpkg --no-triggers --install '{shipped.DebianPackage}'");

    // As "systemctl edit chamber" would; the pause before a start is shorter than the unit's.
    private Task<string> Settle(string unit) => machine.Ask("mkdir -p /run/systemd/system/chamber.service.d"
        + $" && printf '[Service]\\nRestartSec=2\\n{unit.Replace("\n", "\\n", StringComparison.Ordinal)}\\n'"
        + " >/run/systemd/system/chamber.service.d/test.conf && systemctl daemon-reload");

    private Task<string> Write(string file, string content) =>
        machine.Ask($"printf '%s' '{content}' | install -o chamber -g chamber -m 600 /dev/stdin {Folder}/{file}");

    // Acknowledged when this returns.
    private Task<string> Send(double celsius) => machine.Ask(FormattableString.Invariant(
        $"mosquitto_pub -h 127.0.0.1 -q 1 -t chamber/p1/reading -m '{{ \"temperature\": {celsius} }}'"));

    private Task<string> StartedAgain() => machine.Until("it to be started again",
        $"[ $(systemctl show -p NRestarts --value chamber) -ge 1 ] && {Live}");

    private Task<string> Journal() => machine.Ask("journalctl --unit chamber --no-pager --output cat");
}
