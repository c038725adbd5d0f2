using System.Collections.Frozen;
using Chamber.Testing;

namespace Chamber.Shipping.Tests.Rig;

/// <summary>
/// The system calls that a unit refuses, and a program that gets that refusal for each of them. systemd can only apply its filter where
/// it is the first process; strace gives the same answer to the same calls anywhere. Which calls a group such as @system-service holds
/// is asked of systemd itself.
/// </summary>
internal sealed class SystemCallFilter
{
    private readonly FrozenDictionary<string, string[]> groups;

    private SystemCallFilter(string listing) =>
        groups = Read(listing).ToFrozenDictionary(group => group.Name, group => group.Members, StringComparer.Ordinal);

    /// <summary>Writes a script that runs <paramref name="program"/> with every call refused that these lines of a unit refuse.</summary>
    /// <param name="script">Where to.</param>
    /// <param name="program">The program.</param>
    /// <param name="lines">The values of SystemCallFilter= in order, the first a list of what is allowed.</param>
    /// <param name="error">The value of SystemCallErrorNumber=.</param>
    public static async Task Wrap(string script, string program, IEnumerable<string> lines, string error)
    {
        var filter = new SystemCallFilter((await RunningProgram.Run("systemd-analyze", ["syscall-filter", "--no-pager"])).Succeeded());
        var refused = string.Join(',', filter.Refused(lines).Select(call => "?" + call));

        // The tracer hides behind the program, so that signals and the exit code are the program's.
        await File.WriteAllTextAsync(script, $"""
            #!/bin/sh
            exec strace -D -f -qq -o /dev/null --seccomp-bpf -e trace={refused} -e inject={refused}:error={error} -- '{program}' "$@"

            """);
        File.SetUnixFileMode(script, (UnixFileMode)0b111_101_101);
    }

    /// <summary>What is known and not allowed; a list of allowed calls always holds @default (systemd.exec(5)).</summary>
    public IReadOnlyCollection<string> Refused(IEnumerable<string> lines)
    {
        var allowed = Calls("@default").ToHashSet(StringComparer.Ordinal);
        foreach (var line in lines)
        {
            var calls = line.TrimStart('~').Split(' ', StringSplitOptions.RemoveEmptyEntries).SelectMany(Calls).ToList();
            if (line.StartsWith('~'))
            {
                allowed.ExceptWith(calls);
            }
            else
            {
                allowed.UnionWith(calls);
            }
        }

        return [.. Calls("@known").Except(allowed).Order(StringComparer.Ordinal)];
    }

    private IEnumerable<string> Calls(string name) => groups.TryGetValue(name, out var members) ? members.SelectMany(Calls) : [name];

    // A group stands at the margin; its members are indented, as are remarks.
    private static IEnumerable<(string Name, string[] Members)> Read(string listing) =>
        from part in listing.Split("\n@").Select(part => part.TrimStart('@').Split('\n'))
        select ("@" + part[0].Trim(), part[1..].Where(line => line.StartsWith(' ')).Select(line => line.Trim())
            .Where(line => !line.StartsWith('#')).ToArray());
}
