// Answers that are marked as a whole: moves put in order, options picked.
class WholeExercise extends Exercise {
  constructor(section, words) {
    super(section, words);
    this.box = section.querySelector(".whole .verdict");
    const press = section.querySelector(".whole .press");
    if (press) press.addEventListener("click", () => this.mark());
  }

  mark() {
    const state = this.judge();
    if (state) this.settle(state);
    return state;
  }

  take(given, marked) {
    this.put(given);
    if (marked[0]) this.mark();
  }
}

class OrderExercise extends WholeExercise {
  constructor(section, words) {
    super(section, words);
    this.list = section.querySelector(".moves");
    this.told = section.querySelector("[data-moved]");
    this.all = [...this.list.children];
    for (const move of this.all) this.wire(move);
    this.show();
  }

  wire(move) {
    move.querySelector("select").addEventListener("change", (event) => this.moveTo(move, Number(event.target.value), event.target));
    for (const key of move.querySelectorAll("[data-by]")) {
      key.addEventListener("click", () => this.moveTo(move, this.places().indexOf(move) + Number(key.dataset.by), key));
    }
  }

  places() {
    return [...this.list.children].filter((move) => !move.hidden);
  }

  moveTo(move, place, control) {
    const others = this.places().filter((one) => one !== move);
    if (place < 0 || place > others.length) return;
    others.splice(place, 0, move);
    this.list.append(...others);
    this.number();
    control.focus(); // moving a node drops its focus
    this.told.textContent = `Now ${place + 1} of ${others.length}.`;
    this.changed();
  }

  number() {
    const places = this.places();
    places.forEach((move, at) => {
      move.classList.remove("broken");
      const options = places.map((_, index) => new Option(index + 1, index, index === at, index === at));
      move.querySelector("select").replaceChildren(...options);
      move.querySelector('[data-by="-1"]').setAttribute("aria-disabled", at === 0);
      move.querySelector('[data-by="1"]').setAttribute("aria-disabled", at === places.length - 1);
    });
  }

  clear() { this.put(this.numbers.show); }

  put(order) {
    const shown = this.numbers.show;
    const given = order.filter((number, at) => shown.includes(number) && order.indexOf(number) === at);
    const whole = given.length === shown.length ? given : shown;
    for (const move of this.all) move.hidden = !shown.includes(Number(move.dataset.n));
    this.list.append(...whole.map((number) => this.all.find((move) => Number(move.dataset.n) === number)));
    this.number();
  }

  order() { return this.places().map((move) => Number(move.dataset.n)); }

  judge() {
    const result = Marking.order(this.order(), this.numbers);
    const right = result.broken.length === 0;
    const kept = right ? "" : Dom.make("span", "read", `${result.kept} of ${result.pairs} pairs stand in the right order.`);
    const hold = result.hold ? Dom.make("p", "", Dom.make("b", "", "A safety step is out of place."), " On a docket that alone makes the mark nothing, until you have talked it over with your instructor.") : "";
    Dom.say(this.box, right ? "right" : "wrong", this.words.verdict[right ? "right" : "wrong"], kept, hold, this.brokenPairs(result), right ? "" : this.valid());
    return right ? "right" : "wrong";
  }

  says(number) {
    return this.all.find((move) => Number(move.dataset.n) === number).querySelector(".says").textContent.trim();
  }

  brokenPairs(result) {
    if (!result.broken.length) return "";
    const line = (index) => {
      const pair = this.numbers.pairs[index];
      const reasons = pair.because.map((number) => this.reason(number));
      return Dom.make("li", "", Dom.make("b", "", this.says(pair.first)), " comes before ", Dom.make("b", "", this.says(pair.then)), ".", ...reasons);
    };
    return Dom.make("ul", "", ...result.broken.map(line));
  }

  valid() {
    const moves = this.numbers.valid.map((number) => Dom.make("li", "", this.says(number)));
    return Dom.make("details", "steps", Dom.make("summary", "", "One order that works"), Dom.make("ol", "", ...moves));
  }

  given() { return { given: this.order(), marked: [this.marked] }; }
}

class ChooseExercise extends WholeExercise {
  constructor(section, words) {
    super(section, words);
    this.list = section.querySelector(".options");
    this.labels = [...this.list.querySelectorAll("label")];
    this.list.addEventListener("change", () => this.changed());
    this.show();
  }

  clear() {
    const { show } = this.numbers;
    for (const label of this.labels) {
      label.hidden = !show.includes(Number(label.dataset.n));
      label.querySelector("input").checked = false;
    }
    this.list.append(...show.map((number) => this.labels.find((label) => Number(label.dataset.n) === number)));
  }

  put(picked) {
    for (const label of this.labels) label.querySelector("input").checked = picked.includes(Number(label.dataset.n));
  }

  picked() { return [...this.list.querySelectorAll("input:checked")].map((input) => Number(input.value)); }

  judge() {
    const picked = this.picked();
    if (!picked.length) {
      Dom.say(this.box, "", "Nothing picked yet.");
      return "";
    }
    const { options } = this.data;
    const some = this.section.dataset.pick === "some";
    const wanted = this.numbers.show.filter((number) => options[number].right).length;
    const ticked = picked.filter((number) => options[number].right).length;
    const right = some ? ticked === wanted && picked.length === wanted : Marking.one(options, picked[0]) === 1;
    const count = some && !right ? Dom.make("span", "read", `${ticked} of the ${wanted} right ones picked, and ${picked.length - ticked} that should not be.`) : "";
    const reasons = picked.filter((number) => options[number].because >= 0).map((number) => this.reason(options[number].because));
    Dom.say(this.box, right ? "right" : "wrong", this.words.verdict[right ? "right" : "wrong"], count, ...reasons);
    return right ? "right" : "wrong";
  }

  given() { return { given: this.picked(), marked: [this.marked] }; }
}
