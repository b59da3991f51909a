// Shows what the server pushed to this browser, while no page needs to be open, and opens the page of the entry when it is
// touched. It is the worker of the pages of entries, for nothing else.

self.addEventListener("install", () => self.skipWaiting());

self.addEventListener("push", (e) => {
  const { Title, Text, Href } = e.data.json();
  e.waitUntil(self.registration.showNotification(Title, { body: Text, tag: Href, data: Href, renotify: true, vibrate: [200, 100, 200] }));
});

self.addEventListener("notificationclick", (e) => {
  e.notification.close();
  e.waitUntil(
    self.clients.matchAll({ type: "window" }).then((open) => {
      const there = open.find((page) => new URL(page.url).pathname === e.notification.data);
      return there ? there.focus() : self.clients.openWindow(e.notification.data);
    }),
  );
});
