// A field for a number with its own keys, and how what was typed was read, in words.
class NumberField {
  constructor(node, unit) {
    this.node = node;
    this.unit = unit;
    this.input = node.querySelector("input");
    this.changed = () => {};
    this.entered = () => {};
    this.input.addEventListener("input", () => this.changed());
    this.input.addEventListener("keydown", (event) => {
      if (event.key !== "Enter") return;
      event.preventDefault();
      this.entered();
    });
    for (const key of node.querySelectorAll(".keys button")) {
      key.addEventListener("pointerdown", (event) => event.preventDefault()); // the field keeps its focus
      key.addEventListener("click", () => this.press(key));
    }
  }

  press(key) {
    const { input } = this;
    const { types, unit } = key.dataset;
    if (unit !== undefined) input.value = this.withUnit(unit);
    else if (types === "±") input.value = /^\s*[-−]/.test(input.value) ? input.value.replace(/^\s*[-−]\s*/, "") : `-${input.value.trim()}`;
    else input.setRangeText(types, input.selectionStart, input.selectionEnd, "end");
    this.changed();
  }

  /** The unit goes behind the number, in place of a unit that is there already. */
  withUnit(unit) {
    const text = this.input.value.trim();
    const known = [...this.node.querySelectorAll("[data-unit]")].map((key) => key.dataset.unit).filter((one) => one && text.endsWith(one));
    const longest = known.sort((a, b) => b.length - a.length)[0];
    const number = longest ? text.slice(0, -longest.length) : text.replace(/[^\d.,½¼¾⅛⅜⅝⅞]+$/, "");
    return `${number.trim()} ${unit}`.trim();
  }

  /** On to the next blank field; to `last` if there is none. */
  toNextBlank(fields, last) {
    const later = fields.slice(fields.indexOf(this.input) + 1);
    (later.find((field) => !field.value.trim()) || last).focus();
  }
}

const Reader = {
  /** How it was read or that it was not, as nodes; nothing for a blank. */
  says(typed, reading) {
    const said = [];
    if (reading.echo) said.push(Dom.make("span", "read", ...Say.nodes("reading.read-as", { echo: Dom.typed(reading.echo) })));
    else if (reading.outcome !== "blank") said.push(Dom.make("span", "read", ...Say.nodes("reading.you-typed", { typed: Dom.typed(typed.trim()) })));
    const why = Reader.why(reading);
    if (why) said.push(Dom.make("p", "", why));
    if (reading.near) said.push(Dom.make("p", "", Say.text("reading.did-you-mean", reading)));
    return said;
  },

  why(reading) {
    if (reading.outcome === "wrong-kind") return Say.text("reading.measures", reading);
    return reading.why ? Say.text("reading.not-read", reading) : "";
  },
};
