// Lets a class be drawn to another place of its session with the mouse or a finger. The numbers follow, and the form is
// sent; without scripts the numbers are typed, or the buttons pressed.

for (const list of document.querySelectorAll(".sequence-rows")) {
  const rows = () => [...list.querySelectorAll(".sequence-row")];

  // number writes the places as the rows stand, and gets the page again.
  function number() {
    rows().forEach((row, i) => {
      for (const field of row.querySelectorAll('[name^="at-"]')) {
        field.value = i + 1;
      }
    });
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
        if (under && under !== row && under.parentElement === list) {
          const box = under.getBoundingClientRect();
          under[e.clientY < box.top + box.height / 2 ? "before" : "after"](row);
        }
      };
      const drop = () => {
        document.removeEventListener("pointermove", move);
        document.removeEventListener("pointerup", drop);
        document.removeEventListener("pointercancel", drop);
        row.classList.remove("held");
        if (rows().indexOf(row) !== before) {
          number();
        }
      };
      document.addEventListener("pointermove", move);
      document.addEventListener("pointerup", drop);
      document.addEventListener("pointercancel", drop);
    });
  }
}
