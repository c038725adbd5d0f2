// Hands the service worker a copy of the page as it stands, so that a phone out of reach shows the last that was known and says
// of when it is. Nothing is kept of what is set up, since secrets are shown there once, and nothing once somebody signs out.
(() => {
  if (!("serviceWorker" in navigator) || !window.isSecureContext) return;
  const firstAfter = 2000, every = 60000;
  const base = new URL(document.baseURI).pathname;
  const among = (...places) => places.some(place => location.pathname.startsWith(base + place));

  // A certificate that the browser does not trust: the page works, and no copy is kept.
  navigator.serviceWorker.register("worker.js").then(start, () => { });

  function start() {
    if (among("sign-in", "sign-out")) {
      navigator.serviceWorker.ready.then(ready => ready.active.postMessage({ forget: true }));
      return;
    }
    setTimeout(keep, firstAfter);
    setInterval(keep, every);
    document.addEventListener("visibilitychange", () => { if (document.visibilityState === "hidden") keep(); });
  }

  async function keep() {
    const stopped = getComputedStyle(document.getElementById("components-reconnect-modal")).display !== "none";
    if (stopped || !document.querySelector("main[data-live]") || among("set-up", "guest")) return;
    const copy = document.documentElement.cloneNode(true);
    copy.querySelectorAll("script, #components-reconnect-modal").forEach(one => one.remove());
    copy.querySelectorAll("button, input, select, textarea").forEach(one => { one.disabled = true; });
    copy.querySelectorAll("main").forEach(one => { delete one.dataset.live; delete one.dataset.beat; });
    copy.querySelector("body").insertAdjacentHTML("afterbegin",
      `<div class="stale asleep offline" role="status"><p><strong>Not connected.</strong> {which}This is from {kept at}.
        Reconnecting…</p></div><script src="${base}offline.js"></script>`);
    const message = {
      path: location.pathname + location.search, html: `<!doctype html>${copy.outerHTML}`, at: Date.now(),
      styles: [...document.querySelectorAll("link[rel=stylesheet]")].map(link => link.href)
    };
    (await navigator.serviceWorker.ready).active.postMessage(message);
  }
})();
