// Keeps a public page current. The page names the stream that tells when it has changed; this module then fetches the
// page again, as anybody would, and changes only what differs, so that reading places, focus and open parts stay.
// Without scripts the page is the same; it says as of when, and how to look again.

await worded;

const stream = document.body.dataset.stream;
const some = document.body.dataset.parts; // a page that is typed into keeps only these parts current
const parts = some ? some.split(",") : ["header.top", "main"];
const pollPause = 20000; // while the stream cannot be had
const calm = 150; // several changes at once are one look
const patience = 20000; // an answer that does not come by then does not come
const steady = 60000; // how often a page that nobody attends looks by itself, and how old it is at least before it loads itself anew
const unattended = "unattended" in document.body.dataset;
let source = null;
let poll = 0;
let wait = 0;
let retry = 0;
let looking = false;
let again = false;

// files names what a page is made of besides itself; the addresses change with the content.
function files(page) {
  return Array.from(page.querySelectorAll("link[href], script[src]"), (e) => e.getAttribute("href") || e.getAttribute("src")).join();
}

// look fetches the page and takes over what is different.
async function look() {
  if (looking) {
    again = true;
    return;
  }
  looking = true;
  const given = new AbortController();
  const limit = setTimeout(() => given.abort(), patience);
  try {
    const answer = await fetch(location.pathname + location.search, { cache: "no-cache", signal: given.signal });
    if (answer.ok) {
      const page = new DOMParser().parseFromString(await answer.text(), "text/html");
      if (unattended && performance.now() > steady && files(page) !== files(document)) {
        location.reload(); // the server was changed, and answers
        return;
      }
      if (unattended) {
        document.documentElement.className = page.documentElement.className;
      }
      for (const part of parts) {
        const now = document.querySelector(part);
        const next = page.querySelector(part);
        if (now && next) {
          // What a script of the page added stays, and so does what it said.
          Idiomorph.morph(now, next, {
            ignoreActiveValue: true,
            callbacks: { beforeNodeRemoved: (n) => !(n.dataset && n.dataset.kept), beforeNodeMorphed: (n) => !(n.dataset && n.dataset.kept) },
          });
        }
      }
      if (!some) {
        document.title = page.title;
      }
      tell();
      document.dispatchEvent(new Event("looked")); // for what a page adds of its own
    }
  } catch {
    // The next change, or the next poll, looks again.
  } finally {
    clearTimeout(limit);
    looking = false;
    if (again) {
      again = false;
      look();
    }
  }
}

// tell marks the page's time as live or not, in words.
function tell() {
  const time = document.querySelector(".asof [data-live]");
  if (time && !some) {
    time.textContent = source && source.readyState === EventSource.OPEN ? say("live") : say("as of");
  }
}

function soon() {
  clearTimeout(wait);
  wait = setTimeout(look, calm);
}

// open follows the stream; the browser itself comes back after a cut, with the last number it has.
function open() {
  if (source) {
    return;
  }
  source = new EventSource(stream);
  source.onopen = () => {
    clearInterval(poll);
    tell();
    soon();
  };
  source.addEventListener("change", soon);
  source.addEventListener("forecast", () => some || soon()); // another class has moved the times of this one
  source.addEventListener("typing", (e) => document.dispatchEvent(new CustomEvent("typing", { detail: e.data }))); // told to booths alone
  source.onerror = () => {
    clearInterval(poll);
    if (source && source.readyState === EventSource.CLOSED) {
      // There is no place for another stream now: the page looks by itself, and asks for one again with each look.
      source = null;
      soon();
      clearTimeout(retry);
      retry = setTimeout(() => document.hidden || open(), pollPause);
    } else {
      poll = setInterval(look, pollPause);
    }
    tell();
  };
}

// close lets the stream go while nobody looks: a browser has only a few connections to a server.
function close() {
  clearInterval(poll);
  clearTimeout(retry);
  if (source) {
    source.close();
    source = null;
  }
}

document.addEventListener("visibilitychange", () => (document.hidden ? close() : open()));
addEventListener("pagehide", close);
addEventListener("pageshow", () => document.hidden || open());
if (!document.hidden) {
  open();
}
if (unattended) {
  setInterval(look, steady); // also where a line is dead and the browser has not noticed
}
