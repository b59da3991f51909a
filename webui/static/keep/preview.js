// What Enter will store, while somebody types a result: worked out by the server's own program in this browser, from the
// last copy of the class and what is kept, so that it is the same while the server is away. Nothing is stored by it.

let lookahead = 0;

// preview shows what the field would become, or the sentence that would refuse it or ask once.
async function preview() {
  const field = document.getElementById("result");
  const place = document.getElementById("preview");
  if (!field || !place || !db) {
    return;
  }
  const [typed, typedFor] = [field.value, hookAsked()];
  let told = {};
  if (typed.trim() !== "") {
    const data = new FormData(field.form);
    const form = { action: data.get("action"), path: here, act: "result", values: new URLSearchParams(data).toString(), at: new Date().toISOString() };
    told = (await goOn(form, true).catch(() => ({}))).Preview ?? {};
  }
  if (field.value !== typed || hookAsked() !== typedFor) {
    return; // somebody went on typing, or stored it
  }
  const filled = { x: told.Result, y: told.Who, n: told.Place };
  const stores = told.Result ? say(told.Place ? "Enter stores {x} for {y}, place {n} now." : "Enter stores {x} for {y}.", filled) : "";
  place.className = told.Wrong ? "ask" : "";
  place.textContent = told.Wrong || stores;
}

const hookAsked = () => document.querySelector(".store [name=hook]")?.value;

addEventListener("input", (e) => {
  if (e.target.id === "result" && page === "booth") {
    clearTimeout(lookahead);
    lookahead = setTimeout(preview, 250);
  }
});

