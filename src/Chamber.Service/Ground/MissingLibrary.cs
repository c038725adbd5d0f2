using System.Text.RegularExpressions;

namespace Chamber.Service.Ground;

/// <summary>What to say where the runtime finds no library, or a part of the program: its own message speaks of type initializers and of
/// every place that it looked in.</summary>
internal static partial class MissingLibrary
{
    private const string Again = "Install Chamber again; where it came as a Debian package: "
        + "apt install --reinstall ./chamber_VERSION_ARCHITECTURE.deb";

    // Libraries that parts of Chamber need from the machine, and the Debian packages that have them, as eng/debian/control.in says.
    private static readonly Dictionary<string, string> Packages = new(StringComparer.Ordinal)
    {
        ["libfontconfig.so.1"] = "libfontconfig1",
        ["libstdc++.so.6"] = "libstdc++6",
        ["libgcc_s.so.1"] = "libgcc-s1",
    };

    /// <summary>One sentence with the name, and the fix; null where nothing is missing.</summary>
    public static string? Of(Exception? problem)
    {
        for (; problem is not null; problem = problem.InnerException)
        {
            if (problem is DllNotFoundException)
            {
                return OfLibrary(problem.Message);
            }

            if (problem is FileNotFoundException or FileLoadException or BadImageFormatException
                && Assembly().Match(problem.Message) is { Success: true } part)
            {
                return $"A part of the program is missing or broken: {part.Groups["name"].Value}.dll. {Again}";
            }
        }

        return null;
    }

    private static string OfLibrary(string message)
    {
        var own = Named().Match(message).Groups["name"].Value;
        var files = Tried().Matches(message).Select(tried => Path.GetFileName(tried.Groups["file"].Value)).ToList();
        return files.Find(file => !file.Contains(own, StringComparison.Ordinal)) is { } needed
            ? $"The library {needed} is missing on this machine; {own} needs it. "
                + (Packages.TryGetValue(needed, out var package) ? $"On Debian: apt install {package}" : "Install the package that has it.")
            : $"A part of the program is missing or broken: {(own.StartsWith("lib", StringComparison.Ordinal) ? own : $"lib{own}")}.so in "
                + $"{AppContext.BaseDirectory} {Again}";
    }

    [GeneratedRegex("library '(?<name>[^']+)'")]
    private static partial Regex Named();

    // As the loader of glibc says it, a line for each place that was looked in.
    [GeneratedRegex("^(?<file>[^\\s:]+): ", RegexOptions.Multiline)]
    private static partial Regex Tried();

    [GeneratedRegex("^Could not load file or assembly '(?<name>[^,']+)")]
    private static partial Regex Assembly();
}
