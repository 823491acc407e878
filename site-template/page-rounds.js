// Moves that are done one at a time: each is seen in the sample that it leads to before the next.
class RoundsPlay {
  constructor(section) {
    const box = section.querySelector(".samples");
    this.samples = [...box.querySelectorAll(".sample")];
    this.most = Number(box.dataset.most);
    this.start = Number(box.dataset.start);
    this.list = section.querySelector(".doing");
    this.moves = [...this.list.children];
    this.so = section.querySelector("[data-done]");
    this.told = section.querySelector("[data-moved]");
    this.done = [];
    this.changed = () => {};
    /** The sample that a move leads to from a sample; both by number. */
    this.leads = (sample, move) => Number(this.samples[sample - 1].dataset.leads.split(" ")[move - 1]);
    // Right above the moves, where it stays in sight while they are read.
    this.list.before(box);
    box.classList.add("played");
    for (const move of this.moves) {
      move.querySelector("[data-does]").addEventListener("click", () => this.step(Number(move.dataset.n)));
    }
    this.show();
  }

  /** The samples seen so far, the one it began with among them. */
  path() {
    const path = [this.start];
    for (const move of this.done) path.push(this.leads(path.at(-1), move));
    return path;
  }

  step(move) {
    if (this.done.length >= this.most) return;
    const before = this.path().at(-1);
    this.done.push(move);
    const now = this.path().at(-1);
    this.show();
    const left = this.most - this.done.length;
    const led = now === before ? Say.text("rounds.nothing-changed") : Say.text("rounds.now-sample", { sample: now, seen: this.says(now) });
    const more = left ? Say.text("rounds.moves-left", { n: left }) : Say.text("rounds.no-moves-left");
    this.told.textContent = `${led} ${more}`;
    this.changed();
  }

  /** What is seen of a sample, as it is read out. */
  says(number) {
    const sample = this.samples[number - 1];
    const figure = sample.querySelector(".spoken");
    return [figure, sample.querySelector(".seen")].map((node) => (node ? node.textContent.trim() : "")).join(" ").trim();
  }

  /** Puts moves down that were done before, as far as they can be. */
  put(moves) {
    const known = (move) => this.moves.some((one) => Number(one.dataset.n) === move);
    const end = moves.findIndex((move) => !known(move));
    this.done = moves.slice(0, end < 0 ? moves.length : end).slice(0, this.most);
    this.told.textContent = "";
    this.show();
  }

  /** Puts the moves into that order, by their numbers. */
  arrange(order) {
    this.list.append(...order.flatMap((number) => this.moves.filter((move) => Number(move.dataset.n) === number)));
  }

  /** The place of a move in the list, from 1. */
  place(move) {
    return [...this.list.children].findIndex((one) => Number(one.dataset.n) === move) + 1;
  }

  text(move) {
    return this.moves.find((one) => Number(one.dataset.n) === move).querySelector(".says").textContent.trim();
  }

  show() {
    const now = this.path().at(-1);
    this.samples.forEach((sample, index) => sample.classList.toggle("now", index + 1 === now));
    this.so.textContent = this.done.length ? this.done.map((move) => this.place(move)).join(" ") : Say.text("exercise.no-moves");
    for (const move of this.moves) {
      move.querySelector("[data-does]").setAttribute("aria-disabled", this.done.length >= this.most);
    }
  }
}
