// How a verdict is shown: in words, beside a register target.
const Verdict = (() => {
  "use strict";

  const SVG = "http://www.w3.org/2000/svg";
  const { make } = Dom;

  function svg(tag, attributes, ...children) {
    const node = document.createElementNS(SVG, tag);
    for (const [name, value] of Object.entries(attributes)) node.setAttribute(name, value);
    node.append(...children);
    return node;
  }

  /** A register target. The second cross stands where `data-state` around it says. */
  function target() {
    const box = { x: -16, y: -16, width: 32, height: 32 };
    const cross = () => svg("use", { href: "#cross", ...box });
    const ring = svg("use", { class: "closed", href: "#ring", ...box });
    const groups = [svg("g", { class: "key" }, cross()), svg("g", { class: "second" }, cross(), ring)];
    return svg("svg", { class: "target", viewBox: "-22 -22 44 44", "aria-hidden": "true" }, ...groups);
  }

  /** Puts a verdict into its live region: the target, the word, then what else there is to say. */
  function say(box, state, word, ...rest) {
    const said = make("div", "said", make("div", "", make("b", "", word), " ", ...rest));
    if (state) said.dataset.state = state;
    said.prepend(state ? target() : make("span", ""));
    box.replaceChildren(said);
  }

  return { say };
})();
