// Lets a class be drawn to another place or session with the mouse or a finger. The numbers follow, and the form is sent; without scripts the numbers are typed, or the buttons pressed.

const lists = [...document.querySelectorAll(".sequence-rows")];

for (const list of lists) {
  const rows = (of = list) => [...of.querySelectorAll(".sequence-row")];

  // number writes the places as the rows stand, and the session of the one that was drawn, and gets the page again.
  function number(drawn) {
    for (const of of lists) {
      rows(of).forEach((row, i) => {
        for (const field of row.querySelectorAll('[name^="at-"]')) {
          field.value = i + 1;
        }
      });
    }
    if (drawn.parentElement !== list) {
      const session = drawn.parentElement.dataset.session;
      const field = drawn.querySelector("[name^='session-']");
      field.value = session;
      field.name = "session-" + session + "-" + drawn.dataset.slug; // it has its place there already
    }
    list.closest("form").requestSubmit();
  }

  for (const row of rows()) {
    if (!row.querySelector("[name^='pin-']")) {
      continue; // it has begun
    }
    const grip = document.createElement("button");
    grip.type = "button";
    grip.className = "grip";
    grip.textContent = "⠿";
    grip.tabIndex = -1; // the keyboard has Up and Down
    grip.setAttribute("aria-hidden", "true");
    row.prepend(grip);
    grip.addEventListener("pointerdown", (e) => {
      e.preventDefault();
      const before = rows().indexOf(row);
      row.classList.add("held");
      // A row that moves loses what follows the pointer, so that the document does.
      const move = (e) => {
        const under = document.elementFromPoint(row.getBoundingClientRect().left + 40, e.clientY)?.closest(".sequence-row");
        const within = under?.parentElement === row.parentElement || row.querySelector("[name^='session-']");
        if (under && under !== row && within) {
          const box = under.getBoundingClientRect();
          under[e.clientY < box.top + box.height / 2 ? "before" : "after"](row);
        }
      };
      const drop = () => {
        document.removeEventListener("pointermove", move);
        document.removeEventListener("pointerup", drop);
        document.removeEventListener("pointercancel", drop);
        row.classList.remove("held");
        if (row.parentElement !== list || rows().indexOf(row) !== before) {
          number(row);
        }
      };
      document.addEventListener("pointermove", move);
      document.addEventListener("pointerup", drop);
      document.addEventListener("pointercancel", drop);
    });
  }
}
