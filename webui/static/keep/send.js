// What comes and goes between this browser and the server: forms, pages and copies of the class.

// ask sends a request that is not waited for too long.
function ask(path, more, most = limit) {
  const given = new AbortController();
  const timer = setTimeout(() => given.abort(), most);
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
    const hook = new URLSearchParams(form.values).get("hook");
    if (form.act === "result" && hookAsked() !== hook && touched()) {
      return tell(); // the stream was quicker than the answer, and somebody types for the next hook already
    }
    if (filing) { // to lead on would end it
      await refresh(true);
      return tell();
    }
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
  return document.querySelector("main details[open] form") !== null || (field !== null && field.value !== field.defaultValue);
}

// refresh takes the server's page and copy over, also from under somebody's hands where it is the answer to their own form;
// where it does not answer, the page goes on alone.
async function refresh(own = false) {
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
    if (own || (!old && !going && !touched())) {
      show(given.getElementById("main").innerHTML, own);
    }
    const words = document.getElementById("alone");
    if (words) {
      words.textContent = say("The server answers again.");
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
