using System.Text.RegularExpressions;
using Chamber.Testing;
using Microsoft.Playwright;

namespace Chamber.Benchmarks.Running;

/// <summary>
/// How much there is to read on a phone: words that Debian's Chromium draws at 360 by 740 px on each page of the demo, on the first screen
/// and on the whole page. Give the program to measure: the published one, or the built one without an argument; with a folder too, it keeps
/// there what was read and pictures in both themes. The browser tests hold a bound for each page.
/// </summary>
internal static partial class WordsBenchmark
{
    public static async Task<int> Run(string[] arguments)
    {
        var program = arguments is [var named, ..] ? named : ChamberProcess.Program;
        var folder = arguments is [_, var kept, ..] ? Directory.CreateDirectory(kept).FullName : null;
        await using var browser = await DemoInBrowser.Open();
        var address = await browser.StartDemo(program);
        await browser.Demo.Line("Nothing heard from sill-air");
        await using var context = await browser.Visitor();
        var page = await context.NewPageAsync();
        var (first, all) = (0, 0);
        foreach (var path in DemoInBrowser.Pages)
        {
            await page.GotoAsync(address + path);
            await page.Locator("main[data-live]").WaitForAsync();
            var words = await page.EvaluateAsync<string[]>(WordsOnScreen.Script);
            var seen = WordsOnScreen.First(words);
            (first, all) = (first + seen, all + words.Length - 1);
            Measure.Say($"{seen,5} {words.Length - 1,6}  {path}");
            if (folder is not null)
            {
                var name = NotInNames().Replace(path, "-").Trim('-');
                await Keep(page, Path.Combine(folder, name.Length > 0 ? name : "today"), words);
            }
        }

        Measure.Say($"{first,5} {all,6}  all {DemoInBrowser.Pages.Count} pages");

        return 0;
    }

    // A picture by day and one by night, and the words in the order of the page.
    private static async Task Keep(IPage page, string file, string[] words)
    {
        await File.WriteAllTextAsync(file + ".txt", string.Join(' ', words));
        foreach (var light in new[] { ColorScheme.Light, ColorScheme.Dark })
        {
            await page.EmulateMediaAsync(new() { ColorScheme = light });
            await page.ScreenshotAsync(new() { Path = $"{file}-{light}.png" });
        }
    }

    [GeneratedRegex("[^a-z0-9]+", RegexOptions.IgnoreCase)]
    private static partial Regex NotInNames();
}
