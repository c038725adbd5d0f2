using System.Reflection;

namespace Chamber.Service.Web.Parts;

/// <summary>On a page that rests on the data file or on the machine of the home: where others keep the home, a line stands in its
/// place.</summary>
/// <param name="elsewhere">The line: who sees to it there.</param>
[AttributeUsage(AttributeTargets.Class)]
public sealed class AtHomeOnlyAttribute(string elsewhere) : Attribute
{
    public string Elsewhere => elsewhere;

    /// <summary>The line of a page; null where the page is shown for any home.</summary>
    public static string? Of(Type page) => page.GetCustomAttribute<AtHomeOnlyAttribute>()?.Elsewhere;
}
