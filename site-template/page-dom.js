// Small helpers for the page. Typed text only ever becomes text.
const Dom = (() => {
  "use strict";

  const BIDI = /[\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]/g;

  const clean = (text) => text.replace(BIDI, "");

  function make(tag, className, ...children) {
    const node = document.createElement(tag);
    if (className) node.className = className;
    node.append(...children.filter((child) => child !== ""));
    return node;
  }

  /** Does something that a browser may refuse. */
  function quietly(work, otherwise) {
    try {
      return work();
    } catch {
      return otherwise; // storage refused, full or damaged: the page works on without it
    }
  }

  const json = (id) => JSON.parse(document.getElementById(id).textContent);

  return { clean, make, quietly, json, typed: (text) => make("bdi", "", clean(text)) };
})();
