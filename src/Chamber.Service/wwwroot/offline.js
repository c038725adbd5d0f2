// On a page that the service worker kept: calls the service again, and loads the page again once it answers.
(() => {
  const tryAgainAfter = 3000;
  const icon = new URL("icon.svg", document.currentScript.src);
  addEventListener("online", call);
  setTimeout(call, tryAgainAfter);
  let calling = false;

  async function call() {
    if (calling) return;
    calling = true;
    try {
      const answer = await fetch(icon, { cache: "no-store" });
      if (answer.ok) { location.reload(); return; }
    } catch { /* Not there yet. */ }
    calling = false;
    setTimeout(call, tryAgainAfter);
  }
})();
