using Microsoft.Playwright;

namespace Chamber.Browser.Tests.Rig;

/// <summary>How wide the screen is and whether it is light or dark.</summary>
public sealed record Display(int Width, ColorScheme Theme)
{
    /// <summary>The narrowest phone that counts, at daylight.</summary>
    public static Display Phone { get; } = new(360, ColorScheme.Light);

    /// <summary>A laptop on the table.</summary>
    public static Display Laptop { get; } = new(1280, ColorScheme.Light);

    public static IReadOnlyList<int> Widths { get; } = [360, 768, 1280];

    public ViewportSize Viewport => new() { Width = Width, Height = Width < 500 ? 740 : 900 };

    public override string ToString() => $"{Width}-{(Theme == ColorScheme.Dark ? "dark" : "light")}";
}
