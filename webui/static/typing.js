// Lets the booths of one class see of each other that somebody is typing a result, before it is sent. The page tells the
// server each time somebody pauses in typing, and shows what the stream tells of other pages that ask for the same hook. It
// is a courtesy between people and decides nothing: of two results the first that is sent is stored. Without scripts, and
// while the server is away, nobody is told.

const calm = 400; // a pause in typing
const lasts = 5000; // how long a sign says something
const from = Array.from(crypto.getRandomValues(new Uint8Array(16)), (b) => b.toString(16).padStart(2, "0")).join(""); // of this page; also without HTTPS
const others = new Map(); // what is typed on other pages, by the page
let pausing = 0;

const hook = () => document.querySelector(".store [name=hook]")?.value;

// send tells what stands in the field, as long as something does.
function send() {
  const field = document.getElementById("result");
  if (field && field.value.trim() !== "") {
    const to = field.form.getAttribute("action").replace(/[^/]+$/, "typing");
    fetch(to, { method: "POST", body: new URLSearchParams({ hook: hook(), from, result: field.value }) }).catch(() => {});
  }
}

// show says what is typed elsewhere for the hook that this page asks for.
function show() {
  const place = document.getElementById("typing");
  if (place) {
    const texts = Array.from(others.values()).filter((o) => o.hook === hook()).map((o) => o.text);
    const figures = texts.filter((text) => text !== "").join(" · ");
    place.textContent = figures ? say("Another booth is typing: {x}", { x: figures }) : texts.length > 0 ? say("Another booth is typing.") : "";
  }
}

document.addEventListener("input", (e) => {
  if (e.target.id === "result") {
    clearTimeout(pausing);
    pausing = setTimeout(send, calm);
  }
});

document.addEventListener("typing", (e) => {
  const told = JSON.parse(e.detail);
  if (told.from.replaceAll("-", "") !== from) {
    others.set(told.from, told);
    setTimeout(() => others.get(told.from) === told && (others.delete(told.from), show()), lasts);
    show();
  }
});
