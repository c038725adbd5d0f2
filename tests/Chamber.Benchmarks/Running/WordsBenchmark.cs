using System.Globalization;
using System.Text.RegularExpressions;
using Chamber.Testing;
using Microsoft.Playwright;

namespace Chamber.Benchmarks.Running;

/// <summary>
/// How much there is to read on a phone: words that Debian's Chromium draws at 360 by 740 px on each page of the demo, on the first screen
/// and on the whole page. A word is whatever stands between blanks and has a letter or a digit. What is folded, cut off, or only for those
/// who hear the page does not count, nor do the menu, what stands in fields and letters in drawings. Give the program to measure: the
/// published one, or the built one without an argument.
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

    private const string Count = """
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
            let first = 0, all = 0;
            const texts = document.createTreeWalker(document.querySelector('main') ?? document.body, NodeFilter.SHOW_TEXT);
            for (let text; text = texts.nextNode();)
                for (const word of text.textContent.matchAll(/\S*[\p{L}\p{N}]\S*/gu)) {
                    const range = document.createRange();
                    range.setStart(text, word.index);
                    range.setEnd(text, word.index + word[0].length);
                    const box = range.getClientRects()[0];
                    const shown = box && text.parentElement.checkVisibility({ visibilityProperty: true });
                    if (!shown || hidden(text.parentElement, box)) continue;
                    all++;
                    if (box.top + box.height / 2 < bottom) first++;
                }
            return [first, all];
        }
        """;

    public static async Task<int> Run(string[] arguments)
    {
        var program = arguments is [var named, ..] ? named : ChamberProcess.Program;
        using var playwright = await Playwright.CreateAsync();
        await using var browser = await playwright.Chromium.LaunchAsync(new()
        {
            ExecutablePath = "/usr/bin/chromium",
            Args = ["--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking", "--disable-component-update",
                "--disable-sync"],
        });
        await using var demo = RunningProgram.Start(program,
            ["demo", "--speed", "1", "--page-port", Number(FreePort.Next()), "--broker-port", Number(FreePort.Next())]);
        var address = PageAddress().Match(await demo.Line("Chamber is ready")).Groups[1].Value;
        await demo.Line("Nothing heard from sill-air");
        await using var context = await browser.NewContextAsync(new() { ViewportSize = new() { Width = 360, Height = 740 } });
        var page = await context.NewPageAsync();
        var (first, all) = (0, 0);
        foreach (var path in Pages)
        {
            await page.GotoAsync(address + path);
            await page.Locator("main[data-live]").WaitForAsync();
            var words = await page.EvaluateAsync<int[]>(Count);
            (first, all) = (first + words[0], all + words[1]);
            Measure.Say($"{words[0],5} {words[1],6}  {path}");
        }

        Measure.Say($"{first,5} {all,6}  all {Pages.Length} pages");

        // Asked to, the demo takes its home away with it.
        demo.AskToStop();
        await demo.End();
        return 0;
    }

    private static string Number(int number) => number.ToString(CultureInfo.InvariantCulture);

    [GeneratedRegex("The page: (https?://[^ ]*[0-9])")]
    private static partial Regex PageAddress();
}
