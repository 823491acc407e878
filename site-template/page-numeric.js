// Numbers: one field per answer. Practice asks them one at a time and goes on from the true value.
class NumericExercise extends Exercise {
  constructor(section, words) {
    super(section, words);
    this.parts = [...section.querySelectorAll(".part")].map((node, index) => this.part(node, index));
    this.show();
  }

  part(node, index) {
    const part = { node, index, input: node.querySelector("input"), box: node.querySelector(".verdict"), unit: this.data.parts[index].unit };
    const press = node.querySelector(".press");
    if (press) press.addEventListener("click", () => this.mark(part));
    part.input.addEventListener("input", () => this.changed());
    part.input.addEventListener("keydown", (event) => {
      if (event.key !== "Enter") return;
      event.preventDefault();
      this.enter(part);
    });
    for (const key of node.querySelectorAll(".keys button")) {
      key.addEventListener("pointerdown", (event) => event.preventDefault()); // the field keeps its focus
      key.addEventListener("click", () => this.press(part, key));
    }
    return part;
  }

  clear() {
    for (const part of this.parts) {
      part.input.value = "";
      part.input.removeAttribute("aria-invalid");
      part.state = "";
      part.marked = null;
      part.node.hidden = !this.quiz && part.index > 0;
      const goOn = part.node.querySelector(".go-on");
      if (goOn) goOn.remove();
    }
  }

  enter(part) {
    if (this.quiz) {
      const fields = [...document.querySelectorAll("#quiz .field input")];
      const later = fields.slice(fields.indexOf(part.input) + 1);
      (later.find((field) => !field.value.trim()) || document.getElementById("mark-quiz")).focus();
      return;
    }
    const next = this.parts[part.index + 1];
    if (part.state === "right" && part.marked === part.input.value && next) next.input.focus();
    else this.mark(part);
  }

  press(part, key) {
    const { input } = part;
    const { types, unit } = key.dataset;
    if (unit !== undefined) input.value = this.withUnit(part, unit);
    else if (types === "±") input.value = /^\s*[-−]/.test(input.value) ? input.value.replace(/^\s*[-−]\s*/, "") : `-${input.value.trim()}`;
    else input.setRangeText(types, input.selectionStart, input.selectionEnd, "end");
    this.changed();
  }

  /** The unit goes behind the number, in place of a unit that is there already. */
  withUnit(part, unit) {
    const text = part.input.value.trim();
    const known = [...part.node.querySelectorAll("[data-unit]")].map((key) => key.dataset.unit).filter((one) => one && text.endsWith(one));
    const longest = known.sort((a, b) => b.length - a.length)[0];
    const number = longest ? text.slice(0, -longest.length) : text.replace(/[^\d.,½¼¾⅛⅜⅝⅞]+$/, "");
    return `${number.trim()} ${unit}`.trim();
  }

  mark(part) {
    this.judge(part);
    const states = this.parts.map((one) => one.state);
    const worst = ["wrong", "turn"].find((state) => states.includes(state));
    const all = states.every((state) => state === "right") ? "right" : this.state;
    if (part.state) this.settle(worst || all);
    else this.changed();
    if (part.state === "right" && !this.quiz) this.goOn(part);
  }

  /** The verdict of one answer, in place. */
  judge(part) {
    const typed = part.input.value;
    const reading = Reading.read(typed, part.unit);
    const result = Marking.numeric(reading, this.numbers.parts[part.index]);
    const state = { right: "right", turn: "turn", general: "wrong", kind: "wrong", wrong: "wrong" }[result.verdict] || "";
    part.state = state;
    part.marked = typed;
    part.input.setAttribute("aria-invalid", state !== "right");
    Dom.say(part.box, state, this.words.verdict[result.verdict], ...this.reasons(typed, reading, result));
    return state;
  }

  reasons(typed, reading, result) {
    const said = [];
    if (reading.echo) said.push(Dom.make("span", "read", "Read as ", Dom.typed(reading.echo), "."));
    else if (result.verdict !== "blank") said.push(Dom.make("span", "read", "You typed ", Dom.typed(typed.trim()), "."));
    const why = this.why(reading);
    if (why) said.push(Dom.make("p", "", why));
    if (reading.near) said.push(Dom.make("p", "", `Did you mean ${reading.near}?`));
    if (result.says) said.push(Dom.make("p", "", this.words.general[result.says]));
    return [...said, ...result.because.map((number) => this.reason(number))];
  }

  why(reading) {
    if (reading.outcome === "wrong-kind") return `That measures ${reading.is}; this asks for ${reading.wanted}.`;
    return reading.why ? `It could not be read: ${reading.why}.` : "";
  }

  oneMoreLine() {
    const at = this.parts.filter((part) => !part.node.hidden).length - 1;
    const next = this.lines.find((line) => line.hidden && Number(line.dataset.part) <= at);
    if (next) next.hidden = false;
    const left = this.lines.filter((line) => line.hidden);
    this.more.hidden = left.length === 0;
    if (!left.some((line) => Number(line.dataset.part) <= at)) this.goOn(this.parts[at]);
  }

  /** Asks the next part, from the true value of this one. */
  goOn(part) {
    const next = this.parts[part.index + 1];
    if (!next || !next.node.hidden) return;
    const values = this.section.querySelectorAll(`.working li[data-part="${part.index}"] .value`);
    const value = values.length ? values[values.length - 1].textContent.trim() : "";
    if (value) next.node.prepend(Dom.make("p", "go-on", "Go on from the true value, ", Dom.make("b", "", value), "."));
    next.node.hidden = false;
  }

  given() {
    return { given: this.parts.map((part) => part.input.value), marked: this.parts.map((part) => part.marked) };
  }

  take(given, marked) {
    this.parts.forEach((part, index) => {
      const before = marked[index];
      if (typeof before === "string") {
        part.input.value = before;
        this.mark(part);
      }
      part.input.value = Dom.clean(String(given[index] || ""));
    });
  }
}
