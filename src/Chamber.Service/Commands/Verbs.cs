using System.CommandLine;

namespace Chamber.Service.Commands;

/// <summary>Every verb of <c>chamber</c>, in the order in which help lists them. Each has a file of its own beside this one.</summary>
internal static class Verbs
{
    public static IEnumerable<Command> All() =>
    [
        AboutVerb.Create(),
        ConfigVerb.Create(),
    ];
}
