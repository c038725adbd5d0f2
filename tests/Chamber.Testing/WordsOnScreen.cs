namespace Chamber.Testing;

/// <summary>
/// How much there is to read on a page of the service, asked of a browser. A word is whatever stands between blanks and has a letter or a
/// digit. What is folded, cut off, or only for those who hear the page does not count, nor do the menu, what stands in fields and letters
/// in drawings.
/// </summary>
public static class WordsOnScreen
{
    /// <summary>Stands in the answer between the words of the first screen and those below.</summary>
    public const string Fold = "|";

    /// <summary>A function of the page that returns its words as an array of strings, in its order.</summary>
    public const string Script = """
        () => {
            const bar = document.querySelector('.record-bar'), fixed = bar && getComputedStyle(bar).position === 'fixed' ? bar : null;
            const bottom = (fixed ?? document.querySelector('.rail'))?.getBoundingClientRect().top ?? innerHeight;
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
                    (fixed?.contains(text) || box.top + box.height / 2 < bottom ? first : below).push(word[0]);
                }
            return [...first, '|', ...below];
        }
        """;

    /// <summary>How many words the first screen shows.</summary>
    public static int First(IEnumerable<string> words) => words.TakeWhile(word => word != Fold).Count();
}
