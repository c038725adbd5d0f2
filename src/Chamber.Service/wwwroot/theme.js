// Runs before the first paint, so that a chosen theme does not flash. Without a choice the device decides.
(() => {
  const chosen = localStorage.getItem("chamber-theme");
  if (chosen) document.documentElement.dataset.theme = chosen;
})();
