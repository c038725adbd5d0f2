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
        "/set-up/crops", "/set-up/crops/trials", "/set-up/notices", "/set-up/safekeeping", "/history/entry/1", "/batches/season",
        "/batches/T1",
    ];

    private const int PressesMax = 40;

    // Opens what is folded, fills what has to be filled, and focuses the first button that was not pressed yet; empty when there is none.
    // Left out: what the browser does by itself, what ends the service, and what listens for ten seconds.
    private const string Next = """
        pressed => {
            for (const folded of document.querySelectorAll('main details:not(.chip)')) folded.open = true;
            const words = node => (node.getAttribute('aria-label') ?? node.textContent).replace(/\s+/g, ' ').replace(/[0-9]+/g, '#').trim();
            const last = node => /Remove|Take back|ended|Restore|Turn it off|Forget|Not this/.test(words(node));
            const buttons = [...document.querySelectorAll('main button:not([disabled])')].filter(node =>
                node.checkVisibility({ visibilityProperty: true }) && !node.matches('[data-choose], [data-print], [data-share]')
                && !/^(Stop|Allow|Listen to)/.test(words(node)) && !pressed.includes(words(node)));
            const next = buttons.find(node => !last(node)) ?? buttons[0];
            if (!next) return '';
            for (const field of next.form && next.type === 'submit' ? next.form.elements : []) {
                if (field.value || !field.required || !field.matches('input, select, textarea')) continue;
                if (field.matches('select')) field.selectedIndex = field.options.length - 1;
                else if (field.type === 'radio' || field.type === 'checkbox') field.click();
                else field.value = { number: field.min || '1', url: 'https://example.org', date: '2026-03-01', time: '08:00',
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
        await using var tab = await chromium.New(Display.Phone);
        var ended = new BlockingCollection<bool>();
        tab.Page.WebSocket += (_, socket) => socket.FrameReceived += (_, frame) =>
        {
            if (frame.Binary is { } bytes && bytes.AsSpan().IndexOf(EndOfEvent) >= 0)
            {
                ended.Add(true);
            }
        };
        var (lost, all) = (new List<string>(), 0);
        foreach (var path in Pages)
        {
            var pressed = new List<string>();
            await tab.GoTo(home.Address + path);
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

            all += pressed.Count;
            TestContext.Current.TestOutputHelper!.WriteLine($"{path}: {string.Join(" | ", pressed)}");
        }

        Assert.Empty(lost);
        Assert.True(all > 60, $"Only {all} buttons were found.");
        Assert.Empty(tab.Problems);
    }

    [Fact]
    public async Task A_button_that_is_switched_off_hands_the_focus_on()
    {
        await using var home = await OwnHome.Start(Furnished.WithTomatoesDue);
        await using var tab = await chromium.Open(home.Address + "/set-up/probes", Display.Phone);
        var button = tab.Page.GetByRole(AriaRole.Button, new() { Name = "Listen to everything" });
        await button.FocusAsync();
        await tab.Page.Keyboard.PressAsync("Enter");
        await Expect(button).ToBeDisabledAsync();
        Assert.False(await tab.Page.EvaluateAsync<bool>(IsLost));
    }
}
