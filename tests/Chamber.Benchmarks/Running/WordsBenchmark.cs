using System.Text.RegularExpressions;
using Chamber.Testing;
using Microsoft.Playwright;

namespace Chamber.Benchmarks.Running;

/// <summary>
/// How much there is to read on a phone: words that Debian's Chromium draws at 360 by 740 px on each page of the demo, on the first screen
/// and on the whole page. A word is whatever stands between blanks and has a letter or a digit. What is folded, cut off, or only for those
/// who hear the page does not count, nor do the menu, what stands in fields and letters in drawings. Give the program to measure: the
/// published one, or the built one without an argument; with a folder too, it keeps there what was read and pictures in both themes.
/// </summary>
internal static partial class WordsBenchmark
{
    private static readonly string[] Pages =
    [
        "/", "/spots", "/spots?crop=basil", "/spots/plain-mat", "/spots/boiler-cupboard?crop=basil", "/spots/crops",
        "/spots/place?sow=tomato:2&sow=lettuce:1", "/spots/compare?spot=plain-mat&spot=sunny-sill&spot=boiler-cupboard&crop=basil",
        "/batches", "/batches/T1", "/batches/compare?first=T1&second=B1", "/batches/year", "/batches/season", "/batches/hindsight",
        "/batches/learned", "/seeds", "/seeds/lots/tomato-own", "/seeds/add",
        "/seeds/sow?lot=tomato-own&spot=thermostat-mat", "/seeds/plan",
        "/set-up", "/set-up/start", "/set-up/probes", "/set-up/calibrate", "/set-up/read", "/set-up/spots", "/set-up/crops",
        "/set-up/crops/trials", "/set-up/notices", "/set-up/network", "/set-up/people", "/set-up/safekeeping", "/set-up/about",
        "/history", "/cautions",
    ];

    private const string Fold = "|";

    private const string Words = """
        () => {
            const bottom = document.querySelector('.rail')?.getBoundingClientRect().top ?? innerHeight;
            const hidden = (node, box) => {
                for (let around = node; around; around = around.parentElement) {
                    const style = getComputedStyle(around);
                    if (style.clipPath !== 'none' || around.matches('script, style, option, svg')) return true;
                    if (style.overflowY === 'hidden' && box.top + box.height / 2 > around.getBoundingClientRect().bottom) return true;
                    if (around.matches('details:not([open])') && !around.querySelector(':scope > summary')?.contains(node)) return true;
                }
                return false;
            };
            const first = [], below = [];
            const texts = document.createTreeWalker(document.querySelector('main') ?? document.body, NodeFilter.SHOW_TEXT);
            for (let text; text = texts.nextNode();)
                for (const word of text.textContent.matchAll(/\S*[\p{L}\p{N}]\S*/gu)) {
                    const range = document.createRange();
                    range.setStart(text, word.index);
                    range.setEnd(text, word.index + word[0].length);
                    const box = range.getClientRects()[0];
                    const shown = box && text.parentElement.checkVisibility({ visibilityProperty: true });
                    if (!shown || hidden(text.parentElement, box)) continue;
                    (box.top + box.height / 2 < bottom ? first : below).push(word[0]);
                }
            return [...first, '|', ...below];
        }
        """;

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
        foreach (var path in Pages)
        {
            await page.GotoAsync(address + path);
            await page.Locator("main[data-live]").WaitForAsync();
            var words = await page.EvaluateAsync<string[]>(Words);
            var seen = words.TakeWhile(word => word != Fold).Count();
            (first, all) = (first + seen, all + words.Length - 1);
            Measure.Say($"{seen,5} {words.Length - 1,6}  {path}");
            if (folder is not null)
            {
                var name = NotInNames().Replace(path, "-").Trim('-');
                await Keep(page, Path.Combine(folder, name.Length > 0 ? name : "today"), words);
            }
        }

        Measure.Say($"{first,5} {all,6}  all {Pages.Length} pages");

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
