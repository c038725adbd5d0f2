using System.Collections.Concurrent;
using System.Text;
using Chamber.Browser.Tests.Rig;
using Chamber.Testing;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Chamber.Browser.Tests.Flows;

/// <summary>Every button of the pages that act, pressed with the keyboard one after another, and those that appear because of it: the focus
/// stays on it, on what follows it, or near, and never falls back to the beginning of the page.</summary>
public sealed class FocusSweepTests(Chromium chromium)
{
    // What is pressed last takes away what the others need.
    private static readonly string[] Pages =
    [
        "/", "/spots/shelf", "/spots/place?sow=basil:1", "/spots/crops", "/seeds/add", "/seeds/lots/basil-1", "/seeds/plan",
        "/seeds/sow?lot=basil-1&spot=shelf", "/set-up/probes", "/set-up/calibrate?probe=p1", "/set-up/read", "/set-up/spots",
        "/set-up/crops", "/set-up/crops/trials", "/set-up/notices", "/set-up/people", "/set-up/safekeeping", "/history/entry/1",
        "/batches/season", "/batches/year", "/batches/T1",
    ];

    private const int PressesMax = 40;

    // Opens what is folded, fills what has to be filled, and focuses the first button that was not pressed yet; empty when there is none.
    // Left out: what the browser does by itself, what ends the service, what listens for ten seconds, and the own dialogue of the browser.
    private const string Next = """
        pressed => {
            for (const folded of document.querySelectorAll('main details:not(.chip)')) folded.open = true;
            const said = node => node.getAttribute('aria-label') || node.textContent.trim() || node.querySelector('img')?.alt || '';
            const words = node => said(node).replace(/\s+/g, ' ').replace(/[0-9]+/g, '#').trim();
            const last = node => /Remove|Take back|Revoke|ended|Restore|Turn it off|Forget|Not this|Shut/.test(words(node));
            const buttons = [...document.querySelectorAll('main button:not([disabled])')].filter(node =>
                node.checkVisibility({ visibilityProperty: true }) && !node.matches('[data-choose], [data-print], [data-share]')
                && !/^(Stop|Notify this|Listen to)/.test(words(node)) && !pressed.includes(words(node)));
            const next = buttons.find(node => !last(node)) ?? buttons[0];
            if (!next) return '';
            for (const field of next.form && next.type === 'submit' ? next.form.elements : []) {
                if (field.value || !field.required || !field.matches('input, select, textarea')) continue;
                if (field.matches('select')) field.selectedIndex = field.options.length - 1;
                else if (field.type === 'radio' || field.type === 'checkbox') field.click();
                else field.value = { number: field.min || '1', url: 'https://example.org', email: 'ada@example.org', date: '2026-03-01', time: '08:00',
                    'datetime-local': '2026-03-01T08:00' }[field.type] ?? '21';
                for (const type of ['input', 'change']) field.dispatchEvent(new Event(type, { bubbles: true }));
            }
            next.focus();
            return words(next);
        }
        """;

    private const string IsLost = """
        async () => {
            for (let frame = 0; frame < 2; frame++) await new Promise(requestAnimationFrame);
            return document.activeElement === document.body || document.activeElement === document.querySelector('main');
        }
        """;

    private static readonly byte[] EndOfEvent = Encoding.ASCII.GetBytes("EndInvokeDotNet");

    [Fact]
    public async Task No_button_of_any_page_loses_the_focus()
    {
        await using var home = await OwnHome.Start(Furnished.WithTomatoesDue);
        await home.Do("lot", "add", "basil-1", "--crop", "basil", "--seeds", "90");
        await MarkPhoto(home);
        var pressed = await Sweep(home, Pages);
        Assert.True(pressed.Count > 75, $"Only {pressed.Count} buttons were found.");
        Assert.All(["Allow it", "Make a link", "Make a token", "T#, day #", "Seedling #: take the mark away", "Save the count"],
            button => Assert.Contains(button, pressed));
    }

    [Fact]
    public async Task No_button_of_an_open_network_loses_the_focus()
    {
        await using var home = await OwnHome.Start(Furnished.WithTomatoesDue);
        var pressed = await Sweep(home, ["/set-up/network"], async tab =>
        {
            await tab.Unfold("Let your home network in");
            await tab.Page.GetByLabel("Your name").FillAsync("Ada");
            await tab.Page.GetByLabel("Password").FillAsync("four short words do");
            await tab.Page.Locator("summary", new() { HasText = "Other ports" }).ClickAsync();
            await tab.Page.GetByLabel("For phones").FillAsync($"{FreePort.Next()}");
            await tab.Page.GetByLabel("For sensors").FillAsync($"{FreePort.Next()}");
        });
        Assert.All(["Let them in", "Make its password", "Remove", "Shut them out"], button => Assert.Contains(button, pressed));
    }

    // Two seedlings are marked on a photo of T1.
    private static async Task MarkPhoto(OwnHome home)
    {
        using var http = new HttpClient { BaseAddress = new(home.Address) };
        using var jpeg = new ByteArrayContent(SomePhoto.Jpeg(400, 300, SkiaSharp.SKColors.SaddleBrown));
        jpeg.Headers.ContentType = new("image/jpeg");
        var cancel = TestContext.Current.CancellationToken;
        var taken = (await http.PostAsync("/api/batches/T1/photos", jpeg, cancel)).EnsureSuccessStatusCode();
        using var marks = new StringContent("""[{ "seedling": 1, "x": 0.2, "y": 0.3 }, { "seedling": 2, "x": 0.7, "y": 0.6 }]""",
            Encoding.UTF8, "application/json");
        (await http.PutAsync($"{taken.Headers.Location}/marks", marks, cancel)).EnsureSuccessStatusCode();
    }

    /// <summary>Presses what can be pressed on each page, and returns what that was.</summary>
    private async Task<List<string>> Sweep(OwnHome home, IEnumerable<string> pages, Func<Tab, Task>? first = null)
    {
        await using var tab = await chromium.New(Display.Phone);
        var ended = new BlockingCollection<bool>();
        tab.Page.WebSocket += (_, socket) => socket.FrameReceived += (_, frame) =>
        {
            if (frame.Binary is { } bytes && bytes.AsSpan().IndexOf(EndOfEvent) >= 0)
            {
                ended.Add(true);
            }
        };
        var (lost, all) = (new List<string>(), new List<string>());
        foreach (var path in pages)
        {
            var pressed = new List<string>();
            await tab.GoTo(home.Address + path);
            await (first?.Invoke(tab) ?? Task.CompletedTask);
            while (pressed.Count < PressesMax && await tab.Page.EvaluateAsync<string>(Next, pressed) is { Length: > 0 } button)
            {
                pressed.Add(button);
                while (ended.TryTake(out _))
                {
                }

                await tab.Page.Keyboard.PressAsync("Enter");
                if (await tab.Page.EvaluateAsync<bool>("() => !document.activeElement.matches(':invalid')"))
                {
                    Assert.True(ended.TryTake(out _, RunningProgram.Patience), $"Nothing answers {button} on {path}.");
                }

                if (!tab.Page.Url.EndsWith(path, StringComparison.Ordinal))
                {
                    await tab.GoTo(home.Address + path);
                }
                else if (await tab.Page.EvaluateAsync<bool>(IsLost))
                {
                    lost.Add($"{path}: {button}");
                }
            }

            all.AddRange(pressed);
            TestContext.Current.TestOutputHelper!.WriteLine($"{path}: {string.Join(" | ", pressed)}");
        }

        Assert.Empty(lost);
        Assert.Empty(tab.Problems);
        return all;
    }

    [Fact]
    public async Task A_button_that_is_switched_off_hands_the_focus_on()
    {
        await using var home = await OwnHome.Start(Furnished.WithTomatoesDue);
        await using var tab = await chromium.Open(home.Address + "/set-up/probes", Display.Phone);
        await tab.Unfold("What speaks on the broker");
        var button = tab.Page.GetByRole(AriaRole.Button, new() { Name = "Listen to everything" });
        await button.FocusAsync();
        await tab.Page.Keyboard.PressAsync("Enter");
        await Expect(button).ToBeDisabledAsync();
        Assert.False(await tab.Page.EvaluateAsync<bool>(IsLost));
    }
}
