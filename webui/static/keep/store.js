// Lets a page of the booth or the cab go on when the server cannot be reached. Every form is stored in this browser before
// it is sent, and taken out when the server has acknowledged it or a person has decided what becomes of it. Forms are sent in
// the order in which they were stored, those of one class after another; the id of its action makes one that is sent twice
// be done once. While the server is away the page is worked out by the server's own program, compiled for the browser, from
// the last copy of the class and what is kept. Without scripts the page is the same, and needs the server.
//
// This is the first of the parts of which keep.js is joined (see static.go): what is kept, and what the page would be. send.js
// is what comes and goes, tell.js what is said, preview.js what Enter will store, begin.js what the page does with it.

const panel = document.getElementById("kept");
const here = location.pathname; // /e/EVENT/CLASS/booth, or /de/e/EVENT/CLASS/booth
// plain is an address without its language: a page in another one is the same page, and has the same forms.
const plain = (path) => path.replace(/^\/[a-z]{2}(?=\/)/, "");
const page = here.slice(here.lastIndexOf("/") + 1);
const classOf = (path) => plain(path).slice(0, plain(path).lastIndexOf("/"));
const limit = 10000; // an answer that does not come by then is asked for again
const fileLimit = 600000; // the same for a file, on a network that is slow
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
let filing = false; // a form with a file is on its way, which ends with the page

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
    await worded;
    const go = new Go();
    const { instance } = await WebAssembly.instantiateStreaming(fetch(document.body.dataset.module), go.importObject);
    go.run(instance);
    if (document.body.dataset.words) {
      claylineSpeak(document.documentElement.lang, JSON.stringify(sentences));
    }
    return globalThis.claylineBooth;
  });
  loading.catch(() => (loading = null));
  return loading;
}

// goOn works the page out with what is kept for its class, and with the form at hand; or, for a preview, only what that form
// would become.
async function goOn(form, preview = false) {
  const [answer, kept, given] = await Promise.all([load(), all(), copy()]);
  const ask = (f) => ({ Action: f.action, Page: f.path.slice(f.path.lastIndexOf("/") + 1), Act: f.act, Values: f.values, At: f.at });
  const mine = kept.filter((f) => ofClass(f) && (f.state === "kept" || f.state === "sent") && f.action !== form?.action);
  const worked = JSON.parse(answer(JSON.stringify({ Page: page, Copy: JSON.parse(given.text), Kept: mine.map(ask), Form: form ? ask(form) : null, Preview: preview })));
  if (worked.Error) {
    throw new Error(worked.Error);
  }
  return worked;
}

// show takes a page over. What was typed for one hook never stays in the field of another; the form of a photo that is on its
// way stays as it is.
function show(html, own) {
  const photos = filing ? document.getElementById("photos") : null;
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
  if (photos) {
    document.getElementById("photos")?.replaceWith(photos);
  }
  const field = document.getElementById("result");
  if (field && !own && hook() !== before) {
    field.value = "";
  }
  if (field && (own || typing || hook() !== before)) {
    field.focus(); // also where another element took the place of the one that had it
  }
}

// alone shows the page as it goes on without the server, unless that has answered meanwhile, or somebody is filling in a form.
async function alone(own) {
  try {
    const worked = await goOn(null);
    if (cut && (own || !touched())) {
      show(worked.Main, own);
    }
    said = "";
  } catch {
    said = say("This browser has not got what it needs to work out the page. What is kept is kept.");
  }
}
