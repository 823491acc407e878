// Answers that are marked as a whole: moves put in order, options picked.
class WholeExercise extends Exercise {
  constructor(section) {
    super(section);
    this.box = section.querySelector(".whole .verdict");
    const press = section.querySelector(".whole .press");
    if (press) press.addEventListener("click", () => this.mark());
  }

  mark() {
    const state = this.judge();
    if (state) this.settle(state);
    return state;
  }

  /** What makes a mark nothing, and until when. */
  held(key) {
    return Dom.make("p", "", Dom.make("b", "", Say.text(key)), ` ${Say.text("exercise.mark-held")}`);
  }

  take(given, marked) {
    this.put(given);
    if (marked[0]) this.mark();
  }
}

class OrderExercise extends WholeExercise {
  constructor(section) {
    super(section);
    this.moves = new MoveList(section);
    this.moves.changed = () => this.changed();
    this.show();
  }

  clear() { this.put(this.numbers.show); }

  put(order) { this.moves.put(order, this.numbers.show); }

  judge() {
    const result = Marking.order(this.moves.order(), this.numbers);
    const right = result.broken.length === 0;
    const kept = right ? "" : Dom.make("span", "read", Say.text("order.pairs-kept", result));
    const hold = result.hold ? this.held("order.safety-out-of-place") : "";
    Verdict.say(this.box, right ? "right" : "wrong", Say.text(right ? "verdict.right" : "verdict.wrong"), kept, hold, this.brokenPairs(result), right ? "" : this.valid());
    return right ? "right" : "wrong";
  }

  bold(move) { return Dom.make("b", "", this.moves.says(move)); }

  brokenPairs(result) {
    if (!result.broken.length) return "";
    const line = (index) => {
      const pair = this.numbers.pairs[index];
      const reasons = pair.because.map((number) => this.reason(number));
      return Dom.make("li", "", ...Say.nodes("order.comes-before", { first: this.bold(pair.first), then: this.bold(pair.then) }), " ", ...reasons);
    };
    return Dom.make("ul", "", ...result.broken.map(line));
  }

  valid() {
    const moves = this.numbers.valid.map((number) => Dom.make("li", "", this.moves.says(number)));
    return Dom.make("details", "steps", Dom.make("summary", "", Say.text("order.one-that-works")), Dom.make("ol", "", ...moves));
  }

  given() { return { given: this.moves.order(), marked: [this.marked] }; }
}

class RoundsExercise extends WholeExercise {
  constructor(section) {
    super(section);
    this.play = new RoundsPlay(section);
    this.play.leads = (sample, move) => this.data.leads[sample - 1][move];
    this.play.changed = () => this.changed();
    this.again = section.querySelector("[data-again]");
    this.again.addEventListener("click", () => {
      this.put([]);
      this.changed();
    });
    this.show();
  }

  clear() {
    this.play.start = this.numbers.start;
    this.play.arrange(this.numbers.show);
    this.put([]);
  }

  put(moves) { this.play.put(moves); }

  judge() {
    const { done } = this.play;
    if (!done.length) {
      Verdict.say(this.box, "", Say.text("rounds.nothing-done"));
      return "";
    }
    const result = Marking.rounds(done, this.numbers.start, this.data);
    const right = result.right && !result.hold;
    const fewest = result.fewest.length;
    const more = right && done.length > fewest ? Dom.make("span", "read", Say.text("rounds.took", { n: done.length, fewest })) : "";
    const hold = result.hold ? this.held("rounds.not-safe") : "";
    const end = result.right ? "" : Dom.make("span", "read", Say.text("rounds.ends-wrong"));
    Verdict.say(this.box, right ? "right" : "wrong", Say.text(right ? "verdict.right" : "verdict.wrong"), more, end, hold, this.told(result), right ? "" : this.way(result));
    return right ? "right" : "wrong";
  }

  /** What each move did, and why. */
  told(result) {
    const line = (move, index) => {
      const [from, to] = [result.path[index], result.path[index + 1]];
      const because = this.data.because[from - 1][move];
      const told = { move: Dom.make("b", "", this.play.text(move)), to };
      const led = from === to ? Say.nodes("rounds.changed-nothing", told) : Say.nodes("rounds.led-to", told);
      return Dom.make("li", "", ...led, " ", because === null ? "" : this.reason(because));
    };
    return Dom.make("ol", "", ...this.play.done.map(line));
  }

  way(result) {
    const moves = result.fewest.map((move) => Dom.make("li", "", this.play.text(move)));
    return Dom.make("details", "steps", Dom.make("summary", "", Say.text("rounds.fewest-moves")), Dom.make("ol", "", ...moves));
  }

  given() { return { given: this.play.done, marked: [this.marked] }; }
}

/** Options of one question, or of several that are marked one by one. */
class ChooseExercise extends Exercise {
  constructor(section) {
    super(section);
    this.questions = [...section.querySelectorAll(".whole")].map((node) => this.question(node));
    this.show();
  }

  question(node) {
    const question = { options: new OptionList(node), box: node.querySelector(".verdict"), state: "", marked: false };
    question.options.changed = () => this.changed();
    const press = node.querySelector(".press");
    if (press) press.addEventListener("click", () => this.mark(question));
    return question;
  }

  clear() {
    for (const question of this.questions) {
      question.options.show(this.numbers.show);
      question.state = "";
      question.marked = false;
    }
  }

  /** Marks one question, or in a self-quiz all of them; gives the state of the whole. */
  mark(question) {
    for (const one of question ? [question] : this.questions) {
      one.state = this.judge(one);
      one.marked = one.state !== "";
    }
    const states = this.questions.map((one) => one.state);
    const all = states.every((state) => state === "right") ? "right" : this.state;
    const state = states.includes("wrong") ? "wrong" : all;
    if (question ? question.state : states.some((one) => one)) this.settle(state);
    return this.questions.every((one) => one.state) ? state : "";
  }

  judge({ options: list, box }) {
    const picked = list.picked();
    if (!picked.length) {
      Verdict.say(box, "", Say.text("choose.nothing-picked"));
      return "";
    }
    const { options } = this.data;
    const some = this.section.dataset.pick === "some";
    const wanted = list.shown().filter((number) => options[number].right).length;
    const ticked = picked.filter((number) => options[number].right).length;
    const right = some ? ticked === wanted && picked.length === wanted : Marking.one(options, picked[0]) === 1;
    const count = some && !right ? Dom.make("span", "read", Say.text("choose.picked", { ticked, wanted, others: picked.length - ticked })) : "";
    const reasons = picked.filter((number) => options[number].because >= 0).map((number) => this.reason(options[number].because));
    Verdict.say(box, right ? "right" : "wrong", Say.text(right ? "verdict.right" : "verdict.wrong"), count, ...reasons);
    return right ? "right" : "wrong";
  }

  take(given, marked) {
    for (const [index, question] of this.questions.entries()) {
      question.options.put(given);
      if (marked[index]) this.mark(question);
    }
  }

  given() {
    return { given: this.questions.flatMap((one) => one.options.picked()), marked: this.questions.map((one) => one.marked) };
  }
}
