// Whoever presses a button with the keyboard stays where they were: when an action takes away or redraws what had the focus, the focus
// goes to the same button again, or to what stands nearest to its place. A new page sets its own focus.
(() => {
  const reachable = "a[href], button:not([disabled]), input:not([disabled]), select:not([disabled]), textarea:not([disabled]), summary";
  const words = node => `${node.tagName} ${node.id} ${node.getAttribute("aria-label") ?? ""} ${node.children.length || node.textContent
    ? node.textContent.trim() : node.name}`;
  const shown = node => node.checkVisibility({ visibilityProperty: true });
  let last = null;

  addEventListener("focusin", ({ target }) => {
    last = null;
    if (target.closest?.("main") && target.matches(reachable)) {
      const around = [];
      for (let node = target.parentElement; node && node.tagName !== "BODY"; node = node.parentElement)
        around.push({ node, place: [...node.querySelectorAll(reachable)].indexOf(target) });
      last = { node: target, words: words(target), around, page: location.pathname };
    }
  });

  new MutationObserver(() => {
    // A button that was just switched off has the focus until the next frame.
    const lost = last && (!last.node.isConnected || last.node.disabled) && [document.body, last.node].includes(document.activeElement);
    if (!lost || last.page !== location.pathname) return;
    const [near, index] = last.around.filter(one => one.node.isConnected)
      .map(one => [[...one.node.querySelectorAll(reachable)].filter(shown), one.place]).find(([found]) => found.length > 0) ?? [[], 0];
    const target = near.find(node => words(node) === last.words) ?? near[Math.min(index, near.length - 1)]
      ?? document.querySelector("main");
    target.focus({ preventScroll: true });
  }).observe(document.body, { subtree: true, childList: true, attributes: true, attributeFilter: ["disabled"] });
})();
