// Asks the browser to be notified of alerts (Push API, RFC 8030; the key is the VAPID key of this home, RFC 8292).
const bytes = text => Uint8Array.from(atob(text.replace(/-/g, "+").replace(/_/g, "/")), letter => letter.charCodeAt(0));
const failed = problem => ({ endpoint: "", publicKey: "", secret: "", note: null, problem });

export async function subscribe(serverKey) {
  if (!window.isSecureContext) return failed("Browsers allow this only over https, or on the machine itself.");
  if (!("PushManager" in window)) return failed("This browser cannot show notices. On an iPhone add the page to the home screen first.");
  if (await Notification.requestPermission() !== "granted") {
    return failed("Notifications for this page are forbidden; allow them in the browser's settings.");
  }
  await navigator.serviceWorker.register("worker.js");
  const worker = await navigator.serviceWorker.ready;
  const made = (await worker.pushManager.subscribe({ userVisibleOnly: true, applicationServerKey: bytes(serverKey) })).toJSON();
  return { endpoint: made.endpoint, publicKey: made.keys.p256dh, secret: made.keys.auth, note: navigator.platform || null, problem: null };
}
