// Brings the picture of the box up to date while slabs are typed into the setting form. The server draws it, as it does
// when the form is sent, so that there is one picture. Without scripts the form has a button for it.

const form = document.getElementById("write");
const box = document.getElementById("box");
const pause = 300; // ms without a key before the server is asked
let timer = 0;
let asked = 0;

// draw asks for the picture of what stands in the form. An answer that comes after a newer question is not shown, and
// where none comes the picture stays as it is.
async function draw() {
  const mine = ++asked;
  const look = form.querySelector("[formaction]").formAction;
  try {
    const answer = await fetch(look + "/box?" + new URLSearchParams(new FormData(form)));
    const drawn = await answer.text();
    if (answer.ok && mine === asked) {
      box.innerHTML = drawn;
    }
  } catch {
    // Not reached: the form can be sent all the same, and says what is wrong with it.
  }
}

form?.addEventListener("input", () => {
  clearTimeout(timer);
  timer = setTimeout(draw, pause);
});
