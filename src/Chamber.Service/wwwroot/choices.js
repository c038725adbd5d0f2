// Print, share, °C or °F, light or dark: what somebody presses is kept in a cookie of this browser, and the page is drawn again with it.
document.addEventListener("click", event => {
  if (event.target.closest?.("[data-print]")) { print(); return; }
  const shared = event.target.closest?.("[data-share]");
  if (shared) {
    // A phone hands it to any of its programs; elsewhere it is copied.
    const url = shared.dataset.share;
    (navigator.share ? navigator.share({ url }) : navigator.clipboard.writeText(url).then(() => { shared.textContent = "Copied"; }))
      .catch(() => { });
    return;
  }
  const button = event.target.closest?.("[data-choose]");
  if (!button) return;
  const [cookie, value] = button.dataset.choose.split("=");
  document.cookie = `${cookie}=${value}; path=/; samesite=strict; max-age=${value ? 400 * 86400 : 0}`;
  location.reload();
});
