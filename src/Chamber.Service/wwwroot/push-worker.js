// Shows a notice while the page is closed. It keeps nothing and answers no request: the page always comes from the service.
self.addEventListener("push", event => {
  const notice = event.data?.json() ?? {};
  const shown = { body: notice.body ?? "", data: notice.link ?? "/", tag: notice.id, icon: "icon.svg" };
  event.waitUntil(self.registration.showNotification(notice.title ?? "Chamber", shown));
});
self.addEventListener("notificationclick", event => {
  event.notification.close();
  event.waitUntil(clients.openWindow(event.notification.data));
});
