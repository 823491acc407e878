// What every exercise does: shows a pull, is marked, gives reasons, shows its working.
class Exercise {
  constructor(section) {
    this.section = section;
    this.key = section.id;
    this.quiz = section.dataset.mode === "quiz";
    this.data = Dom.json(section.dataset.data);
    [this.first, this.last] = section.dataset.pulls.split("-").map(Number);
    this.pull = this.first;
    this.state = "untried";
    this.marked = false;
    this.changed = () => {};
    this.more = section.querySelector(".more");
    this.fresh = section.querySelector(".fresh");
    this.takeWorking();
    if (this.more) this.more.addEventListener("click", () => this.oneMoreLine());
    if (this.fresh) this.fresh.addEventListener("click", () => this.freshNumbers());
  }

  get numbers() { return this.data.pulls[this.pull]; }

  /** The working leaves its fold: on practice pages it is shown a line at a time. */
  takeWorking() {
    const steps = this.section.querySelector(".steps");
    this.steps = steps;
    this.lines = steps ? [...steps.querySelectorAll("li")] : [];
    if (steps && !this.quiz) steps.replaceWith(steps.querySelector(".working"));
  }

  hideWorking() {
    if (this.quiz) {
      if (this.steps) this.steps.hidden = true;
      return;
    }
    for (const line of this.lines) line.hidden = true;
    if (this.more) this.more.hidden = this.lines.length === 0;
  }

  oneMoreLine() {
    const next = this.lines.find((line) => line.hidden);
    if (next) next.hidden = false;
    if (!this.lines.some((line) => line.hidden)) this.more.hidden = true;
  }

  /** Fills the holes with the numbers of the pull and clears what was answered. */
  show() {
    const { fill } = this.numbers;
    for (const hole of this.section.querySelectorAll("[data-fill]")) hole.textContent = fill[Number(hole.dataset.fill)];
    for (const figure of this.section.querySelectorAll("[data-figure]")) figure.hidden = Number(figure.dataset.figure) !== this.pull;
    this.marked = false;
    if (this.fresh) this.fresh.hidden = true;
    for (const box of this.section.querySelectorAll(".verdict")) box.replaceChildren();
    this.hideWorking();
    this.clear();
  }

  freshNumbers() {
    this.pull = this.pull >= this.last ? this.first : this.pull + 1;
    const focused = document.activeElement === this.fresh;
    this.show();
    this.changed();
    // The button has just gone: keep the reader at the exercise it belonged to.
    if (focused) {
      this.section.tabIndex = -1;
      this.section.focus({ preventScroll: true });
    }
  }

  /** Takes the verdict of the last go. */
  settle(state) {
    this.state = state;
    this.marked = true;
    if (this.fresh) this.fresh.hidden = this.first === this.last;
    if (this.quiz && this.steps) this.steps.hidden = false;
    this.changed();
  }

  reason(number) {
    const held = this.section.querySelector(`[data-reason="${number}"]`);
    const shown = Dom.make("p", "");
    if (held) shown.append(...held.cloneNode(true).childNodes);
    return shown.textContent.trim() ? shown : "";
  }

  restore(kept) {
    if (!kept || !(kept.pull >= this.first && kept.pull <= this.last)) return;
    this.pull = kept.pull;
    this.show();
    this.take(kept.given || [], kept.marked || []);
    if (["right", "turn", "wrong"].includes(kept.state)) this.state = kept.state;
  }

  kept() { return { pull: this.pull, state: this.state, ...this.given() }; }

  reset() {
    this.pull = this.first;
    this.state = "untried";
    this.show();
  }
}
