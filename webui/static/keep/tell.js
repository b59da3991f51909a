// What the page says of what is kept, and what a person may do about a form that was refused.

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
  add(box, "h2", say("Not taken by the server: {x}", { x: f.who }));
  const list = add(box, "dl", "", "terms");
  for (const [term, text] of [[say("Typed here {x}", { x: clock(f.at) }), f.typed], [say("The server has"), f.answer.has]]) {
    const row = add(list, "div");
    add(row, "dt", term);
    add(row, "dd", text);
  }
  add(box, "p", f.answer.message, "wrong");
  const result = new URLSearchParams(f.values).get("result");
  const id = "kept-" + f.seq;
  if (f.answer.state === "on the track" && f.act !== "correct") {
    press(box, say("Store “{x}” for the hook on the track", { x: f.typed }), () => again(f, { hook: f.answer.hook }));
  }
  if (f.answer.state === "ended" && result) {
    const deciding = decisions.get(f.seq) ?? { reason: "", wrong: "" };
    decisions.set(f.seq, deciding);
    const reason = field(box, id + "-reason", say("Reason"), deciding.reason);
    reason.oninput = () => (deciding.reason = reason.value);
    const wrong = add(box, "p", deciding.wrong, "wrong");
    wrong.setAttribute("role", "status");
    press(box, say("Correct the server's to “{x}”", { x: result }), async () => {
      if (reason.value.trim() === "") {
        reason.focus();
        wrong.textContent = deciding.wrong = say("A correction needs its reason; everybody can read it beside the result.");
        return;
      }
      await again(f, { hook: f.answer.hook, reason: reason.value, next: crypto.randomUUID(), word: "" }, "correct");
    });
  }
  if (result) {
    const other = field(box, id + "-result", say("Result"), result);
    press(box, say("Send again as written"), () => again(f, { result: other.value }));
  }
  press(box, say("Let the server's stand"), () => put({ ...f, state: "aside" }));
  if (f.behind > 0) {
    add(box, "p", say(f.behind === 1
      ? "Behind it 1 form is kept here for this class, until this is decided."
      : "Behind it {n} forms are kept here for this class, until this is decided.", { n: f.behind }), "hint");
  }
}

// aside shows what a person let go in favour of the server's, until they have had it and put it away.
function aside(f) {
  const box = add(panel, "p", say("Set aside here: {x1}, typed {x2}. The server has: {x3}.", { x1: what(f), x2: clock(f.at), x3: f.answer.has }) + " ");
  const link = add(box, "a", say("Download"));
  link.href = URL.createObjectURL(new Blob([JSON.stringify(f, null, 2) + "\n"], { type: "application/json" }));
  link.download = "set-aside-" + f.action + ".json";
  link.onclick = () => box.querySelector("button") ?? press(box, say("Take it off this page"), () => remove(f));
}

// tell says what is kept here and why, and nothing while there is nothing to say.
async function tell() {
  await worded;
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
    lines.push(say("This device's pass is over. Enter again with a new link, in this browser; what is kept here is sent then."));
  } else if (cut) {
    lines.push(say(tried
      ? "The server cannot be reached, last tried {x}. This page goes on, and what is stored is kept here."
      : "The server cannot be reached. This page goes on, and what is stored is kept here.", { x: tried }));
  }
  if (kept.length > 0) {
    lines.push(say(kept.length === 1
      ? "1 form is kept here, not on the server: {x}. Sent by itself."
      : "{n} forms are kept here, not on the server: {x}. Sent by themselves, in order.", { n: kept.length, x: kept.map(what).join("; ") }));
  }
  for (const text of said ? [...lines, said] : lines) {
    add(panel, "p", text, "message").setAttribute("role", "status");
  }
  if (cut || kept.length > 0) {
    press(panel, say("Try now"), async () => ((await drain()), cut && refresh()));
  }
  for (const f of refused) {
    conflict({ ...f, behind: kept.filter((k) => classOf(k.path) === classOf(f.path)).length });
  }
  list.filter((f) => f.state === "aside").forEach(aside);
  panel.hidden = panel.childElementCount === 0;
}
