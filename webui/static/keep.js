// Lets a page of the booth or the cab go on when the server cannot be reached. Every form is stored in this browser before
// it is sent, and taken out when the server has acknowledged it or a person has decided what becomes of it. Forms are sent in
// the order in which they were stored, those of one class after another; the id of its action makes one that is sent twice
// be done once. While the server is away the page is worked out by the server's own program, compiled for the browser, from
// the last copy of the class and what is kept. Without scripts the page is the same, and needs the server.

const panel = document.getElementById("kept");
const here = location.pathname; // /e/EVENT/CLASS/booth
const page = here.slice(here.lastIndexOf("/") + 1);
const classOf = (path) => path.slice(0, path.lastIndexOf("/"));
const limit = 10000; // an answer that does not come by then is asked for again
const patience = 3000; // how long somebody looks at a form before the page goes on without its answer
const pause = 4000; // between two tries
const channel = new BroadcastChannel("clayline kept");

let db = null; // once it is open
let cut = false; // the server did not answer the last time
let over = false; // the server knows this device no more
let tried = ""; // when it was tried last
let said = ""; // what could not be done just now
const decisions = new Map(); // by form, what a person who decides has typed and was told: both stay when the panel is drawn anew
let drains = null;
let work = Promise.resolve(); // one form is taken after another
let count = 0; // of the forms taken
const taking = new Set(); // the ids of those that are being taken
let number = 0; // of the last journal line in the copy

// ---- What is kept

// open opens the store. A form in it outlives the page, the browser and the machine.
function open() {
  return new Promise((ok, fail) => {
    const asked = indexedDB.open("clayline", 1);
    asked.onupgradeneeded = () => {
      asked.result.createObjectStore("forms", { keyPath: "seq", autoIncrement: true });
      asked.result.createObjectStore("copies", { keyPath: "path" });
    };
    asked.onsuccess = () => ok(asked.result);
    asked.onerror = () => fail(asked.error);
  });
}

// within runs one request in a transaction of its own; what it wrote is on the disk when it is done.
function within(store, mode, work) {
  return new Promise((ok, fail) => {
    const t = db.transaction(store, mode, { durability: "strict" });
    const asked = work(t.objectStore(store));
    t.oncomplete = () => ok(asked.result);
    t.onerror = t.onabort = () => fail(t.error);
  });
}

const all = () => within("forms", "readonly", (s) => s.getAll());
const put = (form) => within("forms", "readwrite", (s) => s.put(form));
const remove = (form) => within("forms", "readwrite", (s) => s.delete(form.seq));
const copy = () => within("copies", "readonly", (s) => s.get(classOf(here) + " " + page));
const pending = async () => (await all()).filter((f) => f.state === "kept" || f.state === "refused"); // in the order in which they were stored
const ofClass = (f) => classOf(f.path) === classOf(here);

// ---- What the page would be

// load starts the compiled program, once, when it is first needed.
let loading = null;
function load() {
  loading ??= new Promise((ok, fail) => {
    const glue = document.createElement("script");
    glue.src = document.body.dataset.glue;
    glue.onload = ok;
    glue.onerror = fail;
    document.head.append(glue);
  }).then(async () => {
    const go = new Go();
    const { instance } = await WebAssembly.instantiateStreaming(fetch(document.body.dataset.module), go.importObject);
    go.run(instance);
    return globalThis.claylineBooth;
  });
  loading.catch(() => (loading = null));
  return loading;
}

// goOn works the page out with what is kept for its class, and with the form at hand.
async function goOn(form) {
  const [answer, kept, given] = await Promise.all([load(), all(), copy()]);
  const ask = (f) => ({ Action: f.action, Page: f.path.slice(f.path.lastIndexOf("/") + 1), Act: f.act, Values: f.values, At: f.at });
  const mine = kept.filter((f) => ofClass(f) && (f.state === "kept" || f.state === "sent") && f.action !== form?.action);
  const worked = JSON.parse(answer(JSON.stringify({ Page: page, Copy: JSON.parse(given.text), Kept: mine.map(ask), Form: form ? ask(form) : null })));
  if (worked.Error) {
    throw new Error(worked.Error);
  }
  return worked;
}

// show takes a page over. What was typed for one hook never stays in the field of another.
function show(html, own) {
  const now = document.getElementById("main");
  const next = document.createElement("main");
  next.id = "main";
  next.innerHTML = html;
  const hook = () => document.querySelector(".store [name=hook]")?.value;
  const before = hook();
  const typing = document.activeElement?.id === "result" || document.activeElement === document.body;
  if (own) {
    now.replaceWith(next);
  } else {
    Idiomorph.morph(now, next, { ignoreActiveValue: true });
  }
  const field = document.getElementById("result");
  if (field && !own && hook() !== before) {
    field.value = "";
  }
  if (field && (own || typing || hook() !== before)) {
    field.focus(); // also where another element took the place of the one that had it
  }
}

// alone shows the page as it goes on without the server, unless that has answered meanwhile.
async function alone(own) {
  try {
    const worked = await goOn(null);
    if (cut) {
      show(worked.Main, own);
    }
    said = "";
  } catch {
    said = "This browser has not got what it needs to work out the page. What is kept is kept.";
  }
}

// ---- What comes and goes

// ask sends a request that is not waited for too long.
function ask(path, more) {
  const given = new AbortController();
  const timer = setTimeout(() => given.abort(), limit);
  return fetch(path, { cache: "no-store", signal: given.signal, ...more }).finally(() => clearTimeout(timer));
}

// post sends a form; accept says who reads the answer, this script or a person.
const post = (form, accept) => ask(form.path + "/" + form.act, { method: "POST", headers: { Accept: accept }, body: new URLSearchParams(form.values) });

// deliver sends a form once and says what became of it: stored, refused with why and what the server has, over where this
// device may do nothing any more, or away where no answer of the server came. An answer of somebody else, such as the page
// on which a network asks for a password, is none.
async function deliver(form) {
  tried = clock(new Date());
  try {
    const answer = await post(form, "application/json");
    if (answer.status === 401 || answer.status === 403) {
      return { end: "over" };
    }
    const told = await answer.json();
    if (told.action !== form.action) {
      return { end: "away" };
    }
    return answer.ok ? { end: "stored", number: told.number } : { end: "refused", ...told };
  } catch {
    return { end: "away" };
  }
}

// settle sends the form and notes what became of it. It runs under the lock, which one page of this browser has at a time.
async function settle(form) {
  const verdict = await deliver(form);
  cut = verdict.end === "away";
  over = verdict.end === "over";
  if (verdict.end === "stored") {
    await put({ ...form, state: "sent", number: verdict.number }); // the copy has not got it yet
  }
  return verdict;
}

// take stores a form and sends it. While others of the class wait, or the server is away, it is worked out here first, so
// that what is refused is said at once and not kept.
async function take(form, typed) {
  const waiting = (await pending()).some(ofClass);
  if (cut || over || waiting) {
    const worked = await goOn(form).catch(() => null);
    if (!worked?.Refused) {
      await put(form);
    }
    if (worked) {
      show(worked.Main, true);
    }
    drain();
    return tell();
  }
  form.seq = await put(form);
  const sending = navigator.locks.request("clayline kept", () => first(form));
  const verdict = await Promise.race([sending, new Promise((ok) => setTimeout(ok, patience, { end: "away" }))]);
  if (verdict.end === "stored") {
    location.assign(here + "?stored=" + verdict.number);
    return;
  }
  if (verdict.end === "away") {
    form.late = cut = true;
    typed.reset(); // it is kept, and told above the page
    typed.closest("details")?.removeAttribute("open");
    await alone(true);
    sending.then((late) => late.end !== "away" && refresh().then(tell));
  }
  tell();
}

// first sends a form that somebody waits for. What is refused is shown on the server's own page, with the typing, and is
// kept no longer: the person has it before them. Where the page has gone on already, it waits for the person as others do.
async function first(form) {
  const verdict = await settle(form);
  if (verdict.end === "refused" && form.late) {
    await put({ ...form, state: "refused", answer: verdict });
  } else if (verdict.end === "refused") {
    const answer = await post(form, "text/html").catch(() => null);
    if (answer?.redirected) {
      await remove(form);
      location.assign(answer.url);
    } else if (answer) {
      show(new DOMParser().parseFromString(await answer.text(), "text/html").getElementById("main").innerHTML, true);
      await remove(form);
    }
  }
  return verdict;
}

// drain sends what is kept, in order. A class in which one was refused waits for a person; the others go on.
async function drain() {
  drains ??= navigator.locks.request("clayline kept", { ifAvailable: true }, async (lock) => {
    const stuck = new Set();
    let sent = 0;
    while (lock) {
      const kept = await pending();
      kept.filter((f) => f.state === "refused").forEach((f) => stuck.add(classOf(f.path)));
      const next = kept.find((f) => !stuck.has(classOf(f.path)));
      if (!next) {
        break;
      }
      const verdict = await settle(next);
      if (verdict.end === "refused") {
        await put({ ...next, state: "refused", answer: verdict });
        sent++;
      } else if (verdict.end === "stored") {
        sent++;
      } else {
        break;
      }
      tell();
    }
    return sent;
  });
  const sent = await drains;
  drains = null;
  if (sent > 0) {
    channel.postMessage("sent");
    await refresh();
  }
  await tell();
}

// touched tells whether somebody is filling in a form, which is not taken from under their hands. It stays good: it names
// its hook.
function touched() {
  const field = document.getElementById("result");
  return document.querySelector("main details[open]") !== null || (field !== null && field.value !== field.defaultValue);
}

// refresh takes the server's page and copy over; where it does not answer, the page goes on alone.
async function refresh() {
  const before = count;
  try {
    const answer = await ask(here);
    if (answer.status === 401 || answer.status === 403) {
      over = true;
      return;
    }
    const given = new DOMParser().parseFromString(await answer.text(), "text/html");
    await takeCopy(given, true);
    cut = over = false;
    const mine = (await pending()).filter(ofClass);
    // A page from before a form was taken would ask for the hook of that form again.
    const old = before !== count || (mine.length > 0 && mine[0].state === "kept");
    // Who is at the field goes on with the page that is there while it asks for the same hook.
    const asks = (page) => page.querySelector(".store [name=hook]")?.value;
    const going = document.activeElement?.id === "result" && mine.length === 0 && asks(given) === asks(document);
    if (!old && !going && !touched()) {
      show(given.getElementById("main").innerHTML, false);
    }
    const words = document.getElementById("alone");
    if (words) {
      words.textContent = "The server answers again.";
    }
  } catch {
    await away();
  }
}

// away notes that the server cannot be reached; from then on the page goes on alone.
async function away() {
  if (!cut) {
    cut = true;
    await alone(false);
  }
}

// takeCopy stores the class that a page came with. A page that this browser had kept is no newer than what is stored.
async function takeCopy(given, fresh) {
  const text = given.getElementById("copy").textContent;
  const stored = await copy();
  if (fresh || !stored || JSON.parse(stored.text).Number <= JSON.parse(text).Number) {
    await within("copies", "readwrite", (s) => s.put({ path: classOf(here) + " " + page, text }));
    number = JSON.parse(text).Number;
    for (const f of (await all()).filter((f) => f.state === "sent" && ofClass(f) && f.number <= number)) {
      await remove(f);
    }
  }
}

// looked takes the copy over that goes with a change which was told while the page was open.
async function looked() {
  const answer = await ask(here);
  await takeCopy(new DOMParser().parseFromString(await answer.text(), "text/html"), true);
}

// ---- What is said

// add puts an element with its text into another.
function add(into, tag, text, css) {
  const e = document.createElement(tag);
  e.textContent = text ?? "";
  e.className = css ?? "";
  into.append(e);
  return e;
}

// press adds a button.
function press(into, text, work) {
  const b = add(into, "button", text);
  b.type = "button";
  b.onclick = async () => {
    b.disabled = true;
    await work();
    await tell();
    b.disabled = false; // where somebody is deciding, the panel stays as it is
  };
  return b;
}

// field adds a labelled field and returns it.
function field(into, id, text, value) {
  const box = add(into, "div", "", "field long");
  add(box, "label", text).htmlFor = id;
  const input = add(box, "input");
  Object.assign(input, { id, type: "text", autocomplete: "off", value });
  return input;
}

const clock = (at) => new Date(at).toLocaleTimeString("en-GB");
const what = (f) => f.who + ": " + f.typed;
const forms = (n) => (n === 1 ? "1 form is kept here" : n + " forms are kept here");

// again lets a person send a form that was refused once more, as something new in the same place of the order.
async function again(f, changed, act) {
  const values = new URLSearchParams(f.values);
  values.delete("confirm");
  values.set("action", crypto.randomUUID());
  for (const [name, value] of Object.entries(changed)) {
    values.set(name, value);
  }
  const typed = changed.result ?? f.typed;
  await put({ ...f, action: values.get("action"), act: act ?? f.act, values: values.toString(), typed, state: "kept", answer: null });
  await drain();
}

// conflict shows both versions of what was refused, and what a person may do about it.
function conflict(f) {
  const box = add(panel, "section", "", "choice");
  add(box, "h2", "Not taken by the server: " + f.who);
  const list = add(box, "dl", "", "terms");
  for (const [term, text] of [["Typed here " + clock(f.at), f.typed], ["The server has", f.answer.has]]) {
    const row = add(list, "div");
    add(row, "dt", term);
    add(row, "dd", text);
  }
  add(box, "p", f.answer.message, "wrong");
  const result = new URLSearchParams(f.values).get("result");
  const id = "kept-" + f.seq;
  if (f.answer.state === "on the track" && f.act !== "correct") {
    press(box, "Store “" + f.typed + "” for the hook on the track", () => again(f, { hook: f.answer.hook }));
  }
  if (f.answer.state === "ended" && result) {
    const deciding = decisions.get(f.seq) ?? { reason: "", wrong: "" };
    decisions.set(f.seq, deciding);
    const reason = field(box, id + "-reason", "Reason", deciding.reason);
    reason.oninput = () => (deciding.reason = reason.value);
    const wrong = add(box, "p", deciding.wrong, "wrong");
    wrong.setAttribute("role", "status");
    press(box, "Correct the server's to “" + result + "”", async () => {
      if (reason.value.trim() === "") {
        reason.focus();
        wrong.textContent = deciding.wrong = "A correction needs its reason; everybody can read it beside the result.";
        return;
      }
      await again(f, { hook: f.answer.hook, reason: reason.value, next: crypto.randomUUID() }, "correct");
    });
  }
  if (result) {
    const other = field(box, id + "-result", "Result", result);
    press(box, "Send again as written", () => again(f, { result: other.value }));
  }
  press(box, "Let the server's stand", () => put({ ...f, state: "aside" }));
  if (f.behind > 0) {
    add(box, "p", "Behind it " + forms(f.behind) + " for this class, until this is decided.", "hint");
  }
}

// aside shows what a person let go in favour of the server's, until they have had it and put it away.
function aside(f) {
  const box = add(panel, "p", "Set aside here: " + what(f) + ", typed " + clock(f.at) + ". The server has: " + f.answer.has + ". ");
  const link = add(box, "a", "Download");
  link.href = URL.createObjectURL(new Blob([JSON.stringify(f, null, 2) + "\n"], { type: "application/json" }));
  link.download = "set-aside-" + f.action + ".json";
  link.onclick = () => box.querySelector("button") ?? press(box, "Take it off this page", () => remove(f));
}

// tell says what is kept here and why, and nothing while there is nothing to say.
async function tell() {
  const list = await all();
  const kept = list.filter((f) => f.state === "kept");
  const refused = list.filter((f) => f.state === "refused");
  const open = panel.querySelector("input:focus") !== null && refused.length > 0;
  if (open) {
    return; // somebody is deciding
  }
  panel.replaceChildren();
  const lines = [];
  if (over) {
    lines.push("This device's pass is over. Enter again with a new link, in this browser; what is kept here is sent then.");
  } else if (cut) {
    lines.push("The server cannot be reached" + (tried ? ", last tried " + tried : "") + ". This page goes on, and what is stored is kept here.");
  }
  if (kept.length > 0) {
    lines.push(forms(kept.length) + ", not on the server: " + kept.map(what).join("; ") + ". Sent by itself, in order.");
  }
  for (const text of said ? [...lines, said] : lines) {
    add(panel, "p", text, "message").setAttribute("role", "status");
  }
  if (cut || kept.length > 0) {
    press(panel, "Try now", async () => ((await drain()), cut && refresh()));
  }
  for (const f of refused) {
    conflict({ ...f, behind: kept.filter((k) => classOf(k.path) === classOf(f.path)).length });
  }
  list.filter((f) => f.state === "aside").forEach(aside);
  panel.hidden = panel.childElementCount === 0;
}

// ---- What the page does with it

// describe says of a form what was typed and about whom, for a person who has to decide later.
function describe(form, data, act) {
  const chosen = form.querySelector("select[name=hook]");
  const who = chosen ? chosen.selectedOptions[0].textContent : document.querySelector("h1.on-track b, .cab-who b, .choice h2")?.textContent;
  const words = ["word", "result", "what", "option", "at", "reason", "words"].map((n) => data.get(n)).filter((v) => v);
  return { who: who ?? document.querySelector("h1").textContent, typed: words.join(" ") || act };
}

// leave keeps a device from giving its pass back while something is kept that only it has, and cleans up otherwise.
async function leave(form) {
  if ((await all()).some((f) => f.state !== "sent")) {
    said = "Something is kept here that the server has not got. Send it, or download it and take it off this page, and give the pass back then.";
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

addEventListener("submit", (e) => {
  const form = e.target;
  const path = new URL(form.getAttribute("action"), location).pathname; // form.action is the field of that name
  const leaves = path === "/leave";
  if (!isSecureContext || (!leaves && !path.startsWith(here + "/"))) {
    return;
  }
  e.preventDefault();
  const data = new FormData(form, e.submitter);
  const [action, act] = [data.get("action"), path.slice(here.length + 1)];
  if (taking.has(action)) {
    return; // pressed twice
  }
  taking.add(action);
  count++;
  const kept = { action, path: here, act, values: new URLSearchParams(data).toString(), at: new Date().toISOString(), seen: number, state: "kept", ...describe(form, data, act) };
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
  if (!isSecureContext) {
    panel.hidden = false;
    add(panel, "p", "Without HTTPS nothing can be kept in this browser: this page needs the server for everything it stores. docs/serve.md says how to have it.", "label");
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
