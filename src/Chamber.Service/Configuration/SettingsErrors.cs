using System.Text.Json;

namespace Chamber.Service.Configuration;

/// <summary>Turns what the JSON reader says into a line for the person who wrote the file.</summary>
internal static class SettingsErrors
{
    /// <param name="problem">What the reader said.</param>
    /// <param name="where">Makes the beginning of the line from a key and a line number.</param>
    public static string Tell(JsonException problem, Func<string, long, string> where)
    {
        var fault = JsonFault.Of(problem);
        var at = where(fault.Path, (problem.LineNumber ?? 0) + 1);
        return fault.Kind switch
        {
            JsonFaultKind.Null => $"{at} cannot be null: give it a value, or remove it for the default.",
            JsonFaultKind.Unknown when fault.Known.Count > 0 => $"{at} is not a setting. Known here: {string.Join(", ", fault.Known)}.",
            JsonFaultKind.Unknown => $"{at} is not a setting.",
            JsonFaultKind.Missing => $"{at} is missing.",
            JsonFaultKind.OtherKind when fault.Path.Length == 0 => $"{at}the settings must be one object in curly brackets.",
            JsonFaultKind.OtherKind => $"{at} must be {fault.Words}.",
            JsonFaultKind.Twice => $"{at} stands twice: keep one of them.",
            JsonFaultKind.Refused => $"{at}: {fault.Words}",
            _ => $"{at}this is not JSON: {fault.Words}",
        };
    }
}
