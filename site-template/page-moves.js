// Moves that are put in order, and options that are picked.
class MoveList {
  constructor(section) {
    this.list = section.querySelector(".moves");
    this.told = section.querySelector("[data-moved]");
    this.all = [...this.list.children];
    this.changed = () => {};
    for (const move of this.all) this.wire(move);
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
    this.told.textContent = Say.text("order.now-at", { place: place + 1, all: others.length });
    this.changed();
  }

  number() {
    const places = this.places();
    places.forEach((move, at) => {
      const options = places.map((_, index) => new Option(index + 1, index, index === at, index === at));
      move.querySelector("select").replaceChildren(...options);
      move.querySelector('[data-by="-1"]').setAttribute("aria-disabled", at === 0);
      move.querySelector('[data-by="1"]').setAttribute("aria-disabled", at === places.length - 1);
    });
  }

  /** Shows the moves `shown`, in the order given if that has all of them. */
  put(order, shown) {
    const given = order.filter((number, at) => shown.includes(number) && order.indexOf(number) === at);
    const whole = given.length === shown.length ? given : shown;
    for (const move of this.all) move.hidden = !shown.includes(Number(move.dataset.n));
    this.list.append(...whole.map((number) => this.all.find((move) => Number(move.dataset.n) === number)));
    this.number();
  }

  order() { return this.places().map((move) => Number(move.dataset.n)); }

  says(number) {
    return this.all.find((move) => Number(move.dataset.n) === number).querySelector(".says").textContent.trim();
  }
}

class OptionList {
  constructor(section) {
    this.list = section.querySelector(".options");
    this.labels = [...this.list.querySelectorAll("label")];
    this.changed = () => {};
    this.list.addEventListener("change", () => this.changed());
  }

  /** Shows the options `shown`, none of them picked. */
  show(shown) {
    for (const label of this.labels) label.hidden = !shown.includes(Number(label.dataset.n));
    this.put([]);
    this.list.append(...shown.flatMap((number) => this.labels.filter((label) => Number(label.dataset.n) === number)));
  }

  shown() { return this.labels.filter((label) => !label.hidden).map((label) => Number(label.dataset.n)); }

  put(picked) {
    for (const label of this.labels) label.querySelector("input").checked = picked.includes(Number(label.dataset.n));
  }

  picked() { return [...this.list.querySelectorAll("input:checked")].map((input) => Number(input.value)); }

  says(number) {
    return this.labels.find((label) => Number(label.dataset.n) === number).textContent.trim();
  }
}
