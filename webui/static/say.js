// Says what scripts say in the language of the page. It stands in front of each script that says something (see static.go),
// which calls say with an English sentence and what fills its holes. The page names the file with its language's sentences;
// without one, as on English pages, and where it cannot be had, the sentence is said as it is. A script that says something
// at once awaits worded; one that takes what people do waits for no words.

let sentences = {};
const wordsAt = document.body.dataset.words;
const wording = wordsAt && fetch(wordsAt).then((answer) => answer.json()).then((said) => (sentences = said)).catch(() => {});
const worded = Promise.race([wording, new Promise((ok) => setTimeout(ok, 5000))]); // those that come later are said from then on

function say(english, filled = {}) {
  return (sentences[english] ?? english).replace(/\{(\w+)\}/g, (_, hole) => filled[hole]);
}

