// A phone that wakes up has lost its live connection. Say so, and get the page right again by itself.
(() => {
  const dialog = document.getElementById("components-reconnect-modal");
  document.getElementById("reload-page").addEventListener("click", () => location.reload());
  dialog.addEventListener("components-reconnect-state-changed", event => {
    if (event.detail.state === "rejected") location.reload();
    if (event.detail.state === "failed") document.addEventListener("visibilitychange", retry, { once: true });
  });
  async function retry() {
    if (document.visibilityState !== "visible") return;
    if (!await Blazor.reconnect()) location.reload();
  }
})();
