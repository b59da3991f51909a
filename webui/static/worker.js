// Serves the last copy of a booth's or a cab's page, with the files it refers to, when the server cannot be reached. It
// looks after these pages alone: each asks for it with its own address as the bounds, and it keeps no other page. A form is
// no business of it; keep.js has those.

const pages = "clayline pages";
const files = "clayline files";
const staff = /^(\/[a-z]{2})?\/e\/[^/]+\/[^/]+\/(booth|cab)$/; // in any language
const patience = 5000; // a server that has not answered by then is not there

self.addEventListener("install", () => self.skipWaiting());
self.addEventListener("activate", (e) => e.waitUntil(self.clients.claim()));

// A page that was loaded before there was a worker asks to be kept.
self.addEventListener("message", (e) => {
  if (staff.test(e.data.keep)) {
    e.waitUntil(fetch(e.data.keep).then((answer) => keep(e.data.keep, answer)).catch(() => {}));
  }
});

self.addEventListener("fetch", (e) => {
  const url = new URL(e.request.url);
  if (e.request.method !== "GET" || url.origin !== self.location.origin) {
    return;
  }
  if (e.request.mode === "navigate" && staff.test(url.pathname)) {
    e.respondWith(page(e, url.pathname));
  } else if (url.pathname.startsWith("/static/")) {
    e.respondWith(caches.open(files).then((c) => c.match(e.request)).then((kept) => kept ?? fetch(e.request)));
  }
});

// page asks the server, and gives the copy where it does not answer, or another answers for it that it is not there.
async function page(e, path) {
  const given = new AbortController();
  const limit = setTimeout(() => given.abort(), patience);
  try {
    const answer = await fetch(e.request, { signal: given.signal });
    if (answer.status < 502) {
      e.waitUntil(keep(path, answer.clone()));
      return answer;
    }
  } catch {
    // The copy, then.
  } finally {
    clearTimeout(limit);
  }
  return (await (await caches.open(pages)).match(path)) ?? Response.error();
}

// keep stores a page and the files it names, and lets go of files that no page names any more. A page that may not be seen
// any more is forgotten.
async function keep(path, answer) {
  const shelf = await caches.open(pages);
  if (answer.status === 401 || answer.status === 403) {
    await shelf.delete(path);
    return;
  }
  if (answer.status !== 200) {
    return;
  }
  const there = await caches.open(files);
  for (const file of named(await answer.clone().text())) {
    if (!(await there.match(file))) {
      await there.add(file);
    }
  }
  await shelf.put(path, answer); // after its files: a copy that is there is whole
  const wanted = new Set();
  for (const request of await shelf.keys()) {
    for (const file of named(await (await shelf.match(request)).text())) {
      wanted.add(file);
    }
  }
  for (const request of await there.keys()) {
    if (!wanted.has(new URL(request.url).pathname)) {
      await there.delete(request);
    }
  }
}

// named lists the files that a page names; the addresses change with the content.
function named(text) {
  return new Set(Array.from(text.matchAll(/"(\/static\/[^"]+)"/g), (m) => m[1]));
}
