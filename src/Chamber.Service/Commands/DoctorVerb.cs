using Chamber.Service.Doctor;

namespace Chamber.Service.Commands;

/// <summary>Looks at the whole installation, changes nothing, and says the mend of what is wrong.</summary>
internal static class DoctorVerb
{
    public static Verb Create() =>
        new Verb(
            "doctor",
            "Reads the data file through and looks at settings, broker, clock, disk, permissions, notices and backups; says the mend of what is wrong.",
            "chamber doctor",
            "chamber doctor --data /var/lib/chamber --json")
            .Does(async invocation =>
            {
                // In the machine's zone: settings that cannot be read must not keep the doctor away.
                var zone = Home.MachineZone.Find();
                var doctor = new HomeDoctor(invocation.Data, invocation.Around.Variables, invocation.Now, at => TimeText.Show(at, zone, invocation.Now));
                var findings = await doctor.Look(invocation.Cancel);
                invocation.Answer(findings, screen => FindingsScreen.Show(screen, findings));
                return FindingsScreen.Code(findings);
            });
}
