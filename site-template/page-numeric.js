// Numbers: one field per answer. Practice asks them one at a time and goes on from the true value.
class NumericExercise extends Exercise {
  constructor(section) {
    super(section);
    this.parts = [...section.querySelectorAll(".part")].map((node, index) => this.part(node, index));
    this.show();
  }

  part(node, index) {
    const part = Object.assign(new NumberField(node, this.data.parts[index].unit), { index, box: node.querySelector(".verdict") });
    const press = node.querySelector(".press");
    if (press) press.addEventListener("click", () => this.mark(part));
    part.changed = () => this.changed();
    part.entered = () => this.enter(part);
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
      part.toNextBlank([...document.querySelectorAll("#quiz .field input")], document.getElementById("mark-quiz"));
      return;
    }
    const next = this.parts[part.index + 1];
    if (part.state === "right" && part.marked === part.input.value && next) next.input.focus();
    else this.mark(part);
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
    Verdict.say(part.box, state, Say.text(`verdict.${result.verdict}`), ...this.reasons(typed, reading, result));
    return state;
  }

  reasons(typed, reading, result) {
    const general = result.says ? [Dom.make("p", "", Say.text(`general.${result.says}`))] : [];
    return [...Reader.says(typed, reading), ...general, ...result.because.map((number) => this.reason(number))];
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
    if (value) next.node.prepend(Dom.make("p", "go-on", ...Say.nodes("exercise.go-on", { value: Dom.make("b", "", value) })));
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
