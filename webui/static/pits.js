// Makes the page of the pits quicker: it filters while somebody types, and keeps up to ten followed entries on top. Who
// is followed stays in this browser, a list of "class number", and is sent nowhere. Without scripts the field is a form
// that the server answers, and nothing is followed.

await worded;

const most = 10;
const field = document.getElementById("q");
const found = document.getElementById("found");
const whole = !location.search; // an answer to a question holds some of the entries only
const store = "clayline follows " + location.pathname;
let typed = field.value;
if (whole) {
  found.dataset.kept = "yes"; // what is said here stays when the page is brought up to date
}

const rows = () => [...document.querySelectorAll(".pits-class tbody tr")];
const words = (row, css) => row.querySelector(css)?.textContent.trim() ?? "";
const keyOf = (row) => row.closest("section").getAttribute("aria-labelledby") + " " + words(row, ".number");

// read returns who is followed, and null where the browser keeps nothing.
function read() {
  try {
    const kept = JSON.parse(localStorage.getItem(store) ?? "[]");
    return Array.isArray(kept) ? kept.filter((k) => typeof k === "string").slice(0, most) : [];
  } catch {
    return null;
  }
}

// follow adds an entry or takes it away, and says so.
function follow(key, name) {
  const kept = read() ?? [];
  const there = new Set(rows().map(keyOf));
  // An entry that is no longer on the whole page takes no place of the ten.
  let list = whole ? kept.filter((k) => there.has(k)) : kept;
  let said = say("{x} is followed, on top of the page with all entries, in this browser alone.", { x: name });
  if (list.includes(key)) {
    list = list.filter((k) => k !== key);
    said = say("{x} is not followed any more.", { x: name });
  } else if (list.length >= most) {
    said = say("Ten entries are followed already. Unfollow one of them first.");
  } else {
    list.push(key);
  }
  try {
    localStorage.setItem(store, JSON.stringify(list));
  } catch {
    said = say("This browser keeps nothing, so that nobody can be followed.");
  }
  draw();
  found.textContent = said;
}

// button puts the button of an entry into its row, or brings it up to date.
function button(row, key, on) {
  const name = row.querySelector(".number").textContent + " " + row.querySelector(".name").firstChild.textContent.trim();
  let b = row.querySelector(".follow");
  if (!b) {
    b = document.createElement("button");
    b.type = "button";
    b.className = "follow";
    b.dataset.kept = "yes"; // stays when the page is brought up to date
    row.querySelector(".outcome").append(b); // beside the lines of the hook, so that a row grows no taller
  }
  b.textContent = on ? say("Unfollow") : say("Follow");
  b.setAttribute("aria-label", on ? say("Unfollow {x}", { x: name }) : say("Follow {x}", { x: name }));
  b.dataset.key = key;
  b.onclick = () => follow(key, name);
}

// followed draws the entries that are followed, on top, each with its class.
function followed(list) {
  let section = document.getElementById("followed");
  const focus = section?.contains(document.activeElement) ? document.activeElement.dataset.key : "";
  section?.remove();
  const mine = rows().filter((row) => list.includes(keyOf(row)));
  if (!whole || mine.length === 0) {
    return;
  }
  section = document.createElement("section");
  section.id = "followed";
  section.dataset.kept = "yes";
  section.setAttribute("aria-label", say("Followed"));
  section.innerHTML = '<div class="heading"><h2></h2><p></p></div><table class="rows"><tbody></tbody></table>';
  section.querySelector("h2").textContent = say("Followed");
  section.querySelector("p").textContent = say("kept in this browser alone");
  for (const row of mine) {
    const copy = row.cloneNode(true);
    copy.removeAttribute("id");
    copy.hidden = false;
    const home = document.createElement("span");
    home.className = "vehicle";
    const heading = row.closest("section").querySelector(".heading");
    home.append(heading.querySelector("a").cloneNode(true), " · " + words(heading, "p"));
    copy.querySelector(".vehicle").after(home);
    section.querySelector("tbody").append(copy);
    button(copy, keyOf(row), true);
  }
  found.before(section);
  [...section.querySelectorAll(".follow")].find((b) => b.dataset.key === focus)?.focus();
}

// filter shows the entries that are typed for: the number begins with it, or a name has it where it is no number.
function filter() {
  if (!whole) {
    return;
  }
  const wanted = typed.trim().toLowerCase();
  let n = 0;
  for (const row of rows()) {
    const name = row.querySelector(".name").firstChild.textContent.trim() + " " + words(row, ".vehicle");
    row.hidden = !(words(row, ".number").toLowerCase().startsWith(wanted) || (!/^[0-9]/.test(wanted) && name.toLowerCase().includes(wanted)));
    n += row.hidden ? 0 : 1;
  }
  for (const section of document.querySelectorAll(".pits-class")) {
    section.hidden = !section.querySelector("tbody tr:not([hidden])");
  }
  if (wanted) {
    found.textContent = n === 0 ? say("Nobody found. Type the number on the vehicle, or a part of a name.") : n === 1 ? say("1 entry found.") : say("{n} entries found.", { n });
  }
}

// draw adds to the page what it does not have without scripts; it may be called as often as the page changes.
function draw() {
  const list = read();
  if (list) {
    for (const row of rows()) {
      button(row, keyOf(row), list.includes(keyOf(row)));
    }
    followed(list);
  }
  if (field !== document.activeElement && whole) {
    field.value = typed;
  }
  filter();
}

field.addEventListener("input", () => {
  typed = field.value;
  found.textContent = "";
  filter();
});
field.form.addEventListener("submit", (e) => {
  if (whole) {
    e.preventDefault();
    field.blur(); // the keyboard of a phone goes, and what was found is seen
  }
});
document.addEventListener("looked", draw);
addEventListener("storage", draw);
draw();
