// What somebody has typed into a form and not sent is there again when they come back to the page in the same tab: a tap on a link, or a
// phone that drops the page, costs nothing. Passwords are never kept, and nothing is once somebody signs out.
(() => {
  const prefix = "draft ";
  if (["sign-in", "sign-out"].some(place => location.href.startsWith(document.baseURI + place))) {
    Object.keys(sessionStorage).filter(key => key.startsWith(prefix)).forEach(key => sessionStorage.removeItem(key));
    return;
  }
  const kinds = "main form input[id]:not([type]), main form textarea[id], "
    + ["text", "number", "date", "datetime-local", "email", "url"].map(type => `main form input[id][type=${type}]`).join(", ");
  const keyOf = field => `${prefix}${location.pathname}#${field.id}`;
  const first = new WeakMap();
  const isLive = () => document.querySelector("main[data-live]") !== null;

  addEventListener("input", event => {
    const field = event.target;
    if (!event.isTrusted || !field.matches?.(kinds) || field.readOnly) return;
    sessionStorage.setItem(keyOf(field), JSON.stringify({ was: first.get(field) ?? field.defaultValue, value: field.value }));
  }, true);
  addEventListener("submit", event => {
    if (isLive()) event.target.querySelectorAll("[id]").forEach(field => sessionStorage.removeItem(keyOf(field)));
  }, true);

  // Pages follow each other without a load: each field is looked at once, when it first stands on a page that is live.
  function look() {
    if (!isLive()) return;
    for (const field of document.querySelectorAll(kinds)) {
      if (first.has(field)) continue;
      first.set(field, field.value);
      const kept = sessionStorage.getItem(keyOf(field));
      if (!kept) continue;
      const { was, value } = JSON.parse(kept);

      // Where the page says something else by now, that is newer than what was typed.
      if (field.value !== was) continue;
      for (let fold = field.closest("details"); fold; fold = fold.parentElement.closest("details")) fold.open = true;
      field.value = value;
      for (const kind of ["input", "change"]) field.dispatchEvent(new Event(kind, { bubbles: true }));
    }
  }
  new MutationObserver(look).observe(document.body, { subtree: true, childList: true, attributes: true, attributeFilter: ["data-live"] });
  look();
})();
