
namespace Chamber.Service.Web.Views;

/// <summary>
/// What somebody chose for this browser, kept by it in two cookies: °C or °F, and light or dark. Without a choice the settings decide
/// on the one and the device on the other.
/// </summary>
/// <param name="Scale">Null for what the settings say.</param>
/// <param name="Theme">light, dark, or empty for what the device wants.</param>
public sealed record PageChoices(string Scale, string Theme)
{
    public const string ScaleCookie = "chamber-units";
    public const string ThemeCookie = "chamber-theme";

    /// <summary>Anything but the known words counts as no choice: a cookie can hold whatever somebody put there.</summary>
    public static PageChoices Of(IRequestCookieCollection cookies) => new(
        cookies[ScaleCookie] is "C" or "F" ? cookies[ScaleCookie]! : "",
        cookies[ThemeCookie] is "light" or "dark" ? cookies[ThemeCookie]! : "");

    internal TemperatureScale? AsScale() => Scale switch
    {
        "F" => TemperatureScale.Fahrenheit,
        "C" => TemperatureScale.Celsius,
        _ => null,
    };
}
