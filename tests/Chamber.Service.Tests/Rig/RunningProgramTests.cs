using Chamber.Testing;
using Microsoft.Extensions.Logging;

namespace Chamber.Service.Tests.Rig;

/// <summary>The rig that the other tests stand on must itself be able to fail. The normal distribution at 1.96 is asked of R and of SciPy;
/// the rest is invented.</summary>
public sealed class RunningProgramTests
{
    [Fact]
    public async Task A_line_that_comes_later_is_waited_for()
    {
        await using var program = RunningProgram.Start("cat", [], "first\nsecond\n");

        Assert.Equal("second", await program.Line("sec"));
    }

    [Fact]
    public async Task A_program_that_ends_without_the_awaited_line_fails_the_wait()
    {
        await using var program = RunningProgram.Start("sh", ["-c", "echo something else; exit 3"]);

        var error = await Assert.ThrowsAsync<InvalidOperationException>(() => program.Line("ready"));

        Assert.Contains("exit code 3", error.Message, StringComparison.Ordinal);
        Assert.Contains("something else", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Control_c_reaches_the_program()
    {
        const string WaitForIt = "import signal; i = [signal.SIGINT]; signal.signal(i[0], print); signal.pthread_sigmask(signal.SIG_BLOCK, "
            + "i); print('ready', flush=True); signal.sigwait(i); print('stopping')";
        await using var program = RunningProgram.Start("/usr/bin/python3", ["-c", WaitForIt]);
        await program.Line("ready");

        program.PressControlC();

        Assert.Equal("stopping", await program.Line("stopping"));
        Assert.Equal(0, (await program.End()).ExitCode);
    }

    [Fact]
    public async Task A_foreign_broker_passes_a_message_on_and_comes_back_after_a_power_cut()
    {
        await using var broker = await Mosquitto.Start();
        await broker.Stop();
        await broker.StartAgain();
        await using var subscriber = await broker.Subscribe("a/#");

        await broker.PublishLines("a/b", ["21.5", "22"]);

        await subscriber.Line("a/b 22");
        Assert.Contains("a/b 21.5", subscriber.Output, StringComparison.Ordinal);
    }

    [Fact]
    [Trait(Tier.Name, Tier.Whole)]
    public async Task R_and_SciPy_answer()
    {
        Assert.Equal("0.9750021", (await Oracle.R("cat(format(pnorm(1.96), digits = 7))")).Trim());
        Assert.Equal("0.9750021", (await Oracle.SciPy("from scipy.stats import norm; print(round(norm.cdf(1.96), 7))")).Trim());
    }

    [Fact]
    public void An_error_nobody_expected_fails_at_disposal()
    {
        var log = new CollectedLog();
        log.CreateLogger("any").Log(LogLevel.Error, new EventId(1, "Torn"), "torn", null, (text, _) => text);

        Assert.Throws<InvalidOperationException>(log.Dispose);
        log.Expect("Torn").Dispose();
    }
}
