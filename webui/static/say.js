// Says what scripts say in the language of the page. It stands in front of each script that says something (see static.go),
// which calls say with an English sentence and what fills its holes. The page names the file with its language's sentences;
// without one, as on English pages, and where it cannot be had, the sentence is said as it is.

const sentences = await (document.body.dataset.words ? fetch(document.body.dataset.words).then((answer) => answer.json()).catch(() => ({})) : {});

function say(english, filled = {}) {
  return (sentences[english] ?? english).replace(/\{(\w+)\}/g, (_, hole) => filled[hole]);
}

