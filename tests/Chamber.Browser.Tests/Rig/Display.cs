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

    /// <summary>Every width by day and by night.</summary>
    public static IReadOnlyList<Display> All { get; } =
        [.. new[] { ColorScheme.Light, ColorScheme.Dark }.SelectMany(theme => Widths.Select(width => new Display(width, theme)))];

    /// <summary>Every width and both themes in three, for a flow that a person goes through; what it ends in is looked at on all.</summary>
    public static TheoryData<int, ColorScheme> Three { get; } =
        new() { { 360, ColorScheme.Light }, { 768, ColorScheme.Dark }, { 1280, ColorScheme.Light } };

    public ViewportSize Viewport => new() { Width = Width, Height = Width < 500 ? 740 : 900 };

    public override string ToString() => $"{Width}-{(Theme == ColorScheme.Dark ? "dark" : "light")}";
}
