using System.Reflection;

namespace Chamber.Service.Ground;

/// <summary>Which Chamber this is.</summary>
internal static class ProgramVersion
{
    public static string Text { get; } =
        typeof(ProgramVersion).Assembly.GetCustomAttribute<AssemblyInformationalVersionAttribute>()?.InformationalVersion ?? "0";
}
