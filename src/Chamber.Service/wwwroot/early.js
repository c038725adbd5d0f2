// A page is shown before its live connection stands, and until then nobody hears a tap. What is tapped or typed meanwhile is kept,
// shown as waiting, and done as soon as the page is live; where it cannot be done any more, the page says so.
(() => {
  if (!document.body.hasAttribute("data-becomes-live")) return;
  const tooLate = 20000;
  const typed = new Map(), taps = [];
  const isLive = () => document.querySelector("main[data-live]") !== null;
  const inMain = node => node.closest?.("main") !== null;

  // The page is drawn again when it goes live: the same element is the one of the same kind and words at the same place among them.
  const text = node => node.matches("input, select, textarea, form") ? "" : node.textContent.trim();
  const words = node => `${node.tagName} ${node.id} ${node.getAttribute("aria-label") ?? ""} ${text(node)}`;
  const alike = node => [...document.querySelectorAll(`main ${node.tagName.toLowerCase()}`)].filter(other => words(other) === words(node));
  const trace = node => ({ node, words: words(node), tag: node.tagName.toLowerCase(), place: alike(node).indexOf(node), at: Date.now() });
  const find = ({ words: said, tag, place }) => [...document.querySelectorAll(`main ${tag}`)].filter(node => words(node) === said)[place];

  function keep(event, node, act) {
    event.preventDefault();
    event.stopImmediatePropagation();
    if (taps.some(tap => tap.node === node)) return;
    taps.push({ ...trace(node), act });
    node.setAttribute("aria-busy", "true");
  }

  addEventListener("click", event => {
    if (isLive() || !event.isTrusted || !inMain(event.target)) return;
    const button = event.target.closest("button");
    if (button && !button.disabled) keep(event, button, found => found.click());
  }, true);
  addEventListener("submit", event => {
    if (!isLive() && inMain(event.target)) keep(event, event.target, found => found.requestSubmit());
  }, true);
  addEventListener("input", event => {
    if (!isLive() && inMain(event.target)) typed.set(event.target, trace(event.target));
  }, true);

  const watcher = new MutationObserver(() => { if (isLive()) { watcher.disconnect(); requestAnimationFrame(replay); } });
  watcher.observe(document.body, { subtree: true, attributes: true, attributeFilter: ["data-live"], childList: true });

  function replay() {
    for (const [old, mark] of typed) {
      const field = find(mark);
      if (!field) continue;
      if (old.type === "checkbox" || old.type === "radio") field.checked = old.checked; else field.value = old.value;
      for (const kind of ["input", "change"]) field.dispatchEvent(new Event(kind, { bubbles: true }));
    }
    const lost = taps.filter(tap => {
      const found = Date.now() - tap.at < tooLate ? find(tap) : undefined;
      document.querySelectorAll("main [aria-busy=true]").forEach(node => node.removeAttribute("aria-busy"));
      if (!found || found.disabled) return true;
      tap.act(found);
      return false;
    });
    if (lost.length > 0) {
      document.querySelector("main").insertAdjacentHTML("afterbegin", '<p class="problem early" role="alert">'
        + "What you pressed came before the page was ready, and it has changed since. Press it again.</p>");
      addEventListener("click", () => document.querySelector("main > .early")?.remove(), { once: true, capture: true });
    }
  }
})();
