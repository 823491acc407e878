// The answers of a docket: as they go into the return, and as they are read back.
// Every kind has texts(), put(texts) and answers(); it calls `changed`, with true once an answer is settled.

/** Puts off what moves the page about while a finger or a button is down: what is being pressed must stay under it. */
const afterPress = (() => {
  let down = false;
  let waiting = [];
  const lift = () => {
    down = false;
    setTimeout(() => {
      const due = waiting;
      waiting = [];
      for (const work of due) work();
    });
  };
  document.addEventListener("pointerdown", () => { down = true; }, true);
  for (const kind of ["pointerup", "pointercancel"]) document.addEventListener(kind, lift, true);
  return (work) => (down ? waiting.push(work) : work());
})();

class DocketNumbers {
  constructor(section, last) {
    this.changed = () => {};
    this.parts = [...section.querySelectorAll(".part")].map((node) => this.part(node, last));
  }

  part(node, last) {
    const part = Object.assign(new NumberField(node, node.dataset.unit), { box: node.querySelector(".echo") });
    part.label = node.querySelector("label").firstChild.textContent.trim();
    const typing = () => document.activeElement === part.input;
    part.changed = () => {
      if (typing()) part.box.replaceChildren();
      else this.echo(part);
      this.changed(!typing());
    };
    part.entered = () => part.toNextBlank([...document.querySelectorAll(".field input")], last);
    part.input.addEventListener("blur", () => afterPress(() => {
      this.echo(part);
      this.changed(true);
    }));
    return part;
  }

  echo(part) {
    part.box.replaceChildren(...this.read(part));
  }

  /** How a field is read, as nodes; nothing for a blank. */
  read(part) {
    const typed = part.input.value;
    const reading = Reading.read(typed, part.unit);
    const said = Reader.says(typed, reading);
    if (reading.outcome === "unknown-unit") said.splice(1, 0, Dom.make("p", "", Say.text("reading.unit-not-known")));
    if (said.length && reading.outcome !== "value") said.push(Dom.make("p", "", Say.text("reading.goes-as-typed")));
    return said;
  }

  texts() { return this.parts.map((part) => part.input.value); }

  put(texts) {
    this.parts.forEach((part, index) => {
      part.input.value = texts[index];
      this.echo(part);
    });
  }

  answers() {
    const blank = (part) => !part.input.value.trim();
    return this.parts.map((part) => ({ label: part.label, blank: blank(part), says: this.read(part), at: part.input.id }));
  }
}

/** One answer for the whole exercise: numbers as shown, put down by the apprentice and taken back again. */
class DocketWhole {
  constructor(section) {
    this.section = section;
    this.box = section.querySelector(".echo");
    this.back = section.querySelector("[data-back]");
    this.changed = () => {};
    this.back.addEventListener("click", () => {
      this.put([""]);
      this.back.hidden = true;
      this.first().focus(); // the button has just gone
      this.changed(true);
    });
  }

  texts() { return [this.numbers().join(" ")]; }

  put([text]) {
    this.take(text ? text.split(" ").map(Number) : []);
    this.show();
  }

  settle() {
    this.show();
    this.changed(true);
  }

  answers() {
    const blank = this.numbers().length === 0;
    return [{ label: this.label || "", blank, says: blank ? [] : [this.list()], at: this.at || this.section.id }];
  }
}

class DocketOrder extends DocketWhole {
  constructor(section) {
    super(section);
    this.moves = new MoveList(section);
    this.laidOut = this.moves.order();
    this.moves.changed = () => this.stand();
    this.stands = section.querySelector("[data-stands]");
    this.stands.addEventListener("click", () => {
      this.stand();
      this.back.focus(); // the button has just gone
    });
    this.put([""]);
  }

  /** The order as laid out is no answer until the apprentice says so. */
  stand() {
    this.touched = true;
    this.settle();
  }

  first() { return this.stands; }

  numbers() { return this.touched ? this.moves.order() : []; }

  take(numbers) {
    this.touched = numbers.length > 0;
    this.moves.put(numbers, this.laidOut);
  }

  show() {
    this.stands.hidden = this.touched;
    this.back.hidden = !this.touched;
    this.box.textContent = this.touched ? Say.text("order.is-your-answer") : Say.text("order.not-answered");
  }

  list() { return Dom.make("ol", "", ...this.numbers().map((number) => Dom.make("li", "", this.moves.says(number)))); }
}

/** Moves done one at a time. What was seen cannot be unseen, so none is taken back. */
class DocketRounds {
  constructor(section) {
    this.section = section;
    this.box = section.querySelector(".echo");
    this.play = new RoundsPlay(section);
    this.changed = () => {};
    this.play.changed = () => {
      this.show();
      this.changed(true);
    };
    this.show();
  }

  texts() { return [this.play.done.join(" ")]; }

  put([text]) {
    this.play.put(text ? text.split(" ").map(Number) : []);
    this.show();
  }

  show() {
    const { done, most } = this.play;
    const left = most - done.length;
    const more = left ? Say.text("rounds.may-do-more", { n: left }) : Say.text("rounds.no-more");
    this.box.textContent = done.length ? `${Say.text("rounds.is-your-answer")} ${more}` : Say.text("rounds.not-answered");
  }

  answers() {
    const { done } = this.play;
    const list = () => Dom.make("ol", "", ...done.map((move) => Dom.make("li", "", this.play.text(move))));
    return [{ label: "", blank: done.length === 0, says: done.length ? [list()] : [], at: this.section.id }];
  }
}

/** The options of one question. */
class DocketQuestion extends DocketWhole {
  constructor(node, at) {
    super(node);
    this.at = at;
    this.label = node.dataset.label || "";
    this.options = new OptionList(node);
    this.options.changed = () => this.settle();
    this.put([""]);
  }

  first() { return this.section.querySelector(".options input"); }

  numbers() { return this.options.picked(); }

  take(numbers) { this.options.put(numbers); }

  show() { this.back.hidden = this.numbers().length === 0; }

  list() { return Dom.make("ul", "", ...this.numbers().map((number) => Dom.make("li", "", this.options.says(number)))); }
}

/** One question with options, or several. */
class DocketChoice {
  constructor(section) {
    this.changed = () => {};
    this.questions = [...section.querySelectorAll(".whole")].map((node) => new DocketQuestion(node, section.id));
    for (const one of this.questions) one.changed = (settled) => this.changed(settled);
  }

  texts() { return this.questions.flatMap((one) => one.texts()); }

  put(texts) { this.questions.forEach((one, index) => one.put([texts[index]])); }

  answers() { return this.questions.flatMap((one) => one.answers()); }
}
