// Shows notices while the page is closed, and the last page that was kept while the service cannot be reached. What is kept is
// handed over by keep.js; nothing is ever shown from it while the service answers.
const base = new URL(self.registration.scope).pathname;
const pagesName = "chamber-pages", partsName = "chamber-parts", pagesMax = 12;
const policy = "default-src 'self'; style-src 'self' 'unsafe-inline'; img-src 'self' data:; object-src 'none'; base-uri 'self'; "
  + "frame-ancestors 'none'";

self.addEventListener("install", event => {
  self.skipWaiting();
  event.waitUntil(caches.open(partsName).then(parts => parts.addAll(["offline.js", "icon.svg"])));
});
// Where the browser can, the page is fetched while this worker still wakes up.
self.addEventListener("activate", event =>
  event.waitUntil(Promise.all([self.clients.claim(), self.registration.navigationPreload?.enable()])));
// One after another: a page that is put away in the moment of signing out must not be written after everything was forgotten.
let writing = Promise.resolve();
self.addEventListener("message", event => {
  writing = writing.catch(() => { }).then(() => event.data.forget ? caches.delete(pagesName) : keep(event.data));
  event.waitUntil(writing);
});

self.addEventListener("fetch", event => {
  const { request } = event;
  const address = new URL(request.url);
  if (request.method !== "GET" || address.origin !== location.origin) return;
  if (request.mode === "navigate") {
    if (!/^(api|openapi|set-up\/backups)\//.test(address.pathname.slice(base.length))) event.respondWith(page(event, address));
  } else if (request.destination === "style" || address.pathname === `${base}offline.js`) {
    event.respondWith(fetch(request).catch(async () => await caches.match(request) ?? Response.error()));
  }
});

async function page(event, address) {
  try {
    const answer = await event.preloadResponse ?? await fetch(event.request);
    // What stands before the service may answer in its place while it is away.
    if (answer.status < 502 || answer.status > 504) return answer;
  } catch { /* It cannot be reached. */ }
  return await lastKept(address.pathname + address.search);
}

async function keep({ path, html, styles, at }) {
  // What a page needs comes first: a page without it would be worse than none.
  const parts = await caches.open(partsName);
  for (const style of styles) if (!await parts.match(style)) await parts.add(style);
  for (const old of await parts.keys()) if (old.url.endsWith(".css") && !styles.includes(old.url)) await parts.delete(old);
  const pages = await caches.open(pagesName);
  await pages.put(path, new Response(html, { headers: { "x-kept-at": at } }));
  const known = await pages.keys();
  for (const old of known.slice(0, Math.max(0, known.length - pagesMax))) await pages.delete(old);
}

async function lastKept(path) {
  const pages = await caches.open(pagesName);
  const same = await pages.match(path), any = same ?? await pages.match(base);
  const html = any
    ? (await any.text()).replace("{kept at}", clock(Number(any.headers.get("x-kept-at"))))
      .replace("{which}", same ? "" : "What you asked for was not kept; this is Today. ")
    : `<!doctype html><html lang="en"><meta charset="utf-8"><meta name="viewport" content="width=device-width"><title>Not connected</title>
       <main><h1>Not connected</h1>
       <p>Chamber cannot be reached from here, and no page of it was kept. Reconnecting…</p></main>
       <script src="${base}offline.js"></script></html>`;
  return new Response(html, { headers: { "content-type": "text/html; charset=utf-8", "content-security-policy": policy } });
}

function clock(at) {
  const time = new Date(at);
  const day = time.toDateString() === new Date().toDateString() ? ""
    : `${time.toLocaleDateString("en-GB", { weekday: "short", day: "numeric", month: "short" })}, `;
  return day + time.toLocaleTimeString([], { hour: "2-digit", minute: "2-digit", hourCycle: "h23" });
}

self.addEventListener("push", event => {
  const notice = event.data?.json() ?? {};
  const shown = { body: notice.body ?? "", data: notice.link ?? base, tag: notice.id, icon: "icon.svg" };
  event.waitUntil(self.registration.showNotification(notice.title ?? "Chamber", shown));
});
self.addEventListener("notificationclick", event => {
  event.notification.close();
  event.waitUntil(clients.openWindow(event.notification.data));
});
