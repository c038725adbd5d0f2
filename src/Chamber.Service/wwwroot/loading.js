// A page that takes a moment to work out: the outline of what comes stands there meanwhile.
(() => {
  const after = 200;
  let timer, from, heading;

  addEventListener("click", event => {
    const link = event.target.closest?.("a[href]");
    const main = document.querySelector("main[data-live]");
    if (!link || !main || event.button || event.ctrlKey || event.metaKey || event.shiftKey || link.target || link.hasAttribute("download"))
      return;
    const to = new URL(link.href);
    if (to.origin !== location.origin || to.pathname === location.pathname) return;
    if (to.href.startsWith(`${document.baseURI}api/`)) return;
    clearTimeout(timer);
    from = document.querySelector("main h1");
    heading = from?.textContent;
    timer = setTimeout(() => { main.dataset.loading = ""; }, after);
  }, true);

  function done() {
    clearTimeout(timer);
    from = undefined;
    document.querySelectorAll("main[data-loading]").forEach(main => { delete main.dataset.loading; });
  }

  // The page that was left has gone when its heading has.
  new MutationObserver(() => {
    if (from && (!from.isConnected || from.textContent !== heading)) done();
  }).observe(document.body, { subtree: true, childList: true, characterData: true });
  addEventListener("pageshow", done);
})();
