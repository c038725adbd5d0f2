// °C or °F, light or dark: what somebody presses is kept in a cookie of this browser, and the page is drawn again with it.
document.addEventListener("click", event => {
  const button = event.target.closest?.("[data-choose]");
  if (!button) return;
  const [cookie, value] = button.dataset.choose.split("=");
  document.cookie = `${cookie}=${value}; path=/; samesite=strict; max-age=${value ? 400 * 86400 : 0}`;
  location.reload();
});
