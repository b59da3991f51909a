// What the page does with it: it takes each form that is sent, and goes on trying.

// describe says of a form what was typed and about whom, for a person who has to decide later, in the words of the page.
function describe(form, button, data, act) {
  const chosen = form.querySelector("select[name=hook]");
  const who = form.dataset.who ? form.dataset.who : chosen ? chosen.selectedOptions[0].textContent : document.querySelector("h1.on-track b, .cab-who b, .choice h2")?.textContent;
  const title = form.closest("details")?.querySelector("summary") ?? button?.querySelector("b") ?? button;
  const name = title?.textContent.trim().replace(/\s*…$/, "") ?? act;
  const what = data.get("wrong_by") && form.querySelector("select[name=wrong_by]").selectedOptions[0].textContent;
  const words = [data.get("word") || data.get("option") ? name : "", data.get("result"), what, ...["at", "reason", "words"].map((n) => data.get(n))].filter((v) => v);
  return { who: who ?? document.querySelector("h1").textContent, typed: words.join(" ") || name };
}

// leave keeps a device from giving its pass back while something is kept that only it has, and cleans up otherwise.
async function leave(form) {
  if ((await all()).some((f) => f.state !== "sent")) {
    said = say("Something is kept here that the server has not got. Send it, or download it and take it off this page, and give the pass back then.");
    return tell();
  }
  for (const worker of await navigator.serviceWorker.getRegistrations()) {
    await worker.unregister();
  }
  for (const name of await caches.keys()) {
    await caches.delete(name);
  }
  await within("copies", "readwrite", (s) => s.clear());
  form.submit();
}

// sendFile sends a form with a file, which is kept by no browser: where the server does not answer, that is said, and what was
// chosen stays. The page stays too, so that what is typed meanwhile is not lost; of the page that is the answer it takes the
// part about photos.
async function sendFile(form) {
  const [away, going, button] = ["[data-cut]", "[data-going]", "button"].map((of) => form.querySelector(of));
  [away.hidden, going.hidden, button.disabled, filing] = [true, false, true, true];
  try {
    const answer = await ask(form.getAttribute("action"), { method: "POST", headers: { Accept: "text/html" }, body: new FormData(form) }, fileLimit);
    over = answer.status === 401 || answer.status === 403;
    const next = new DOMParser().parseFromString(await answer.text(), "text/html").getElementById("photos");
    if (next) {
      document.getElementById("photos").replaceWith(next);
    } else if (!over) {
      away.hidden = false;
    }
  } catch {
    away.hidden = false;
  }
  [going.hidden, button.disabled, filing] = [true, false, false];
  await tell();
}

addEventListener("submit", (e) => {
  const form = e.target;
  const path = plain(new URL(form.getAttribute("action"), location).pathname); // form.action is the field of that name
  const leaves = path === "/leave";
  if (!isSecureContext || (!leaves && !path.startsWith(plain(here) + "/"))) {
    return;
  }
  e.preventDefault();
  if (form.enctype === "multipart/form-data") {
    filing || sendFile(form);
    return;
  }
  const data = new FormData(form, e.submitter);
  const [action, act] = [data.get("action"), path.slice(plain(here).length + 1)];
  if (taking.has(action)) {
    return; // pressed twice
  }
  taking.add(action);
  count++;
  const kept = { action, path: here, act, values: new URLSearchParams(data).toString(), at: new Date().toISOString(), seen: number, state: "kept", ...describe(form, e.submitter, data, act) };
  work = work
    .then(() => begun)
    .then(() => (leaves ? leave(form) : take(kept, form)))
    .catch(() => cut || form.submit()) // this browser stores nothing: the server is asked as without scripts
    .finally(() => taking.delete(action));
});

// watch goes on trying while there is something to try.
async function watch() {
  const waits = (await pending()).length > 0;
  if (waits) {
    await drain();
  }
  if (cut) {
    await refresh();
    await tell();
  }
  setTimeout(watch, pause);
}

// begin makes the page one that goes on, where the browser can.
async function begin() {
  await worded;
  if (!isSecureContext) {
    panel.hidden = false;
    add(panel, "p", say("Without HTTPS nothing can be kept in this browser: this page needs the server for everything it stores. docs/serve.md says how to have it."), "label");
    return;
  }
  addEventListener("online", drain);
  document.addEventListener("looked", () => looked().catch(() => {}));
  channel.onmessage = () => refresh().then(tell);
  await ask("/worker.js", { method: "HEAD" }).catch(away);
  await tell();
  watch();
  await navigator.serviceWorker.register("/worker.js", { scope: here });
  const worker = (await navigator.serviceWorker.ready).active;
  worker.postMessage({ keep: here });
}

// begun is when forms can be kept, with the class that this page came with.
const begun = isSecureContext ? open().then((d) => ((db = d), takeCopy(document, false))) : Promise.resolve();
begun.then(begin);
