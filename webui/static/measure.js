// Opens the booth's form for another measurement with one key: M, alone in the field for the result, where no result begins
// with it. Escape goes back to that field. Without scripts the form is opened by hand.

document.body.classList.add("keys"); // the page may name the key

const inForm = () => document.getElementById("measured-result"); // there only while something can be measured again

document.addEventListener("input", (e) => {
  if (inForm() && e.target.id === "result" && e.target.value.toLowerCase() === "m") {
    e.target.value = "";
    inForm().closest("details").open = true;
    inForm().focus();
  }
});

document.addEventListener("keydown", (e) => {
  if (e.key === "Escape" && e.target.id === "measured-result") {
    e.target.value = "";
    e.target.closest("details").open = false;
    document.getElementById("result")?.focus();
  }
});
