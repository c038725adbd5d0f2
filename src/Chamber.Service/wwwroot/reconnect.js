// A page that has stopped must say so, and get right again by itself: when the connection is gone, when the service restarts,
// and when a phone wakes up with a connection that only seems to be there.
(() => {
  const dialog = document.getElementById("components-reconnect-modal");
  const heard = document.getElementById("last-heard");
  const asleepAfter = 25000, doubtAfter = 12000, answerWithin = 4000, tryAgainAfter = 3000;
  let beat = Date.now();
  let lost = false;

  // The server moves this mark every few seconds, and with it all that it has to say.
  new MutationObserver(changes => {
    if (changes.some(change => change.target.dataset?.beat !== undefined)) {
      beat = Date.now();
      dialog.classList.remove("asleep");
    }
  }).observe(document.body, { subtree: true, attributes: true, attributeFilter: ["data-beat"] });

  document.getElementById("reload-page").addEventListener("click", () => location.reload());
  dialog.addEventListener("components-reconnect-state-changed", event => {
    say();
    lost = event.detail.state !== "hide";
    if (event.detail.state === "rejected") reloadWhenThere();
    if (event.detail.state === "failed") reloadWhenThere();
  });
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState !== "visible" || Date.now() - beat < doubtAfter) return;
    stopped();
    setTimeout(() => { if (Date.now() - beat >= doubtAfter) reloadWhenThere(); }, answerWithin);
  });
  setInterval(() => { if (document.querySelector("[data-beat]") && Date.now() - beat > asleepAfter) stopped(); }, 5000);

  function say() { heard.textContent = new Date(beat).toLocaleTimeString([], { hour: "2-digit", minute: "2-digit", hourCycle: "h23" }); }
  function stopped() { if (!lost) { say(); dialog.classList.add("asleep"); } }

  // An error page of the browser would take away the last that was known, so the server is asked first.
  async function reloadWhenThere() {
    try {
      const answer = await fetch("icon.svg", { cache: "no-store" });
      if (answer.ok) { location.reload(); return; }
    } catch { /* Not there yet. */ }
    setTimeout(reloadWhenThere, tryAgainAfter);
  }
})();
