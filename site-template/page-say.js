// The texts of the language in which the page is written, by their keys.
//   Say.text(key, holes)    the text with its holes filled
//   Say.nodes(key, holes)   the same as nodes: a hole may be filled with an element
// A number in the hole `n` chooses between singular and plural.
const Say = (() => {
  "use strict";

  const { tag, texts } = JSON.parse(document.getElementById("words").textContent);
  const plural = new Intl.PluralRules(tag);

  function form(key, { n }) {
    const text = texts[key];
    if (typeof text !== "object") return text;
    return text[plural.select(Number(n))] || text.other;
  }

  function nodes(key, holes = {}) {
    const pieces = form(key, holes).split(/\{([a-z]+)\}/);
    return pieces.map((piece, place) => (place % 2 ? holes[piece] : piece)).filter((piece) => piece !== "");
  }

  return { nodes, text: (key, holes) => nodes(key, holes).join("") };
})();
