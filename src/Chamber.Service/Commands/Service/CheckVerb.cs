using System.CommandLine;
using Chamber.Service.Checks;
using Chamber.Service.Commands.Terminal;

namespace Chamber.Service.Commands.Service;

/// <summary>Looks at the whole installation, changes nothing, and says what to do about what is wrong.</summary>
internal static class CheckVerb
{
    public static Verb Create()
    {
        var quick = new Option<bool>(
            "--quick") { Description = "Skip reading the data file and the newest backup, which takes long when they are large." };
        return new Verb(
            "check",
            "Checks settings, data file, broker, clock, disk, permissions, notices, mirror, club and backups, and says what to do.",
            "chamber check",
            "chamber check --quick",
            "chamber check --data /var/lib/chamber --json") { quick }
            .Does(async invocation =>
            {
                var check = new HomeCheck(invocation.Data, invocation.CommandContext.Variables,
                    invocation.Clock) { Quick = invocation.Parse.GetValue(quick) };
                var findings = await check.Look(invocation.Cancel);
                if (invocation.Json)
                {
                    invocation.Answer(findings, _ => { });
                }
                else
                {
                    // Its own screen: settings that cannot be read must not keep the findings away.
                    FindingsScreen.Show(Screen.On(invocation.CommandContext, TemperatureScale.Celsius), findings);
                }

                return FindingsScreen.Code(findings);
            });
    }
}
