// Starts the page: exercises, register row, self-quiz, and what this tablet remembers.
(() => {
  "use strict";

  const KINDS = { numeric: NumericExercise, order: OrderExercise, choose: ChooseExercise, rounds: RoundsExercise };
  const SURE = 5; // fewer goes than this say little

  const byId = (id) => document.getElementById(id);
  let exercises = [];
  let quizMarked = false;
  let ready = false;

  function build() {
    const sections = [...document.querySelectorAll('.exercise[data-kind]:not([data-mode="worked"])')];
    return sections.map((section) => new KINDS[section.dataset.kind](section));
  }

  function drawRow() {
    for (const one of exercises) {
      const link = document.querySelector(`.row [data-for="${one.key}"]`);
      if (!link) continue;
      const state = one.quiz && !quizMarked ? "untried" : one.state;
      link.dataset.state = state;
      link.querySelector(".state").textContent = `, ${Say.text(`row.${state}`)}`;
    }
    if (byId("so-far")) byId("so-far").textContent = soFar(exercises.filter((one) => !one.quiz));
  }

  function soFar(practice) {
    const count = (state) => practice.filter((one) => one.state === state).length;
    const tried = practice.length - count("untried");
    const all = practice.length;
    if (tried === 0) return Say.text("sofar.none", { all });
    if (count("right") === all) return Say.text("sofar.all", { all });
    const right = count("right");
    return tried < Math.min(SURE, all) ? Say.text("sofar.unsure", { right, all }) : Say.text("sofar.left", { right, all, left: all - right });
  }

  function keep() {
    if (!ready) return;
    drawRow();
    const kept = Object.fromEntries(exercises.map((one) => [one.key, one.kept()]));
    if (!Memory.write({ ...kept, quizMarked })) codeSays(Say.text("tablet.keeps-nothing"));
  }

  // ---- the self-quiz: marked together, then each verdict appears ----

  function markQuiz() {
    const asked = exercises.filter((one) => one.quiz);
    quizMarked = true;
    for (const one of asked) markOne(one);
    const right = asked.filter((one) => one.state === "right").length;
    const blank = asked.filter((one) => one.state === "untried").length;
    const score = { right, all: asked.length, blank };
    byId("score").textContent = blank ? Say.text("score.with-blanks", score) : Say.text("score.whole", score);
    byId("fresh-quiz").hidden = false;
    keep();
  }

  function markOne(one) {
    one.state = "untried";
    if (one.parts) one.parts.forEach((part) => one.mark(part));
    else one.mark();
    // A blank beside an answer that was marked is not right, but no go at all stays untried.
    if (one.parts && one.state === "untried" && one.parts.some((part) => part.state)) one.state = "wrong";
  }

  function freshQuiz() {
    quizMarked = false;
    byId("score").textContent = "";
    byId("fresh-quiz").hidden = true;
    for (const one of exercises.filter((each) => each.quiz)) {
      one.state = "untried";
      one.freshNumbers();
    }
    byId("mark-quiz").focus({ preventScroll: true });
    keep();
  }

  // ---- this tablet ----

  const codeSays = (text) => {
    byId("code-says").textContent = text;
  };

  /** Everything as it was before the first go. */
  function wipe() {
    ready = false;
    quizMarked = false;
    for (const one of exercises) one.reset();
    if (byId("score")) byId("score").textContent = "";
    if (byId("fresh-quiz")) byId("fresh-quiz").hidden = true;
    ready = true;
  }

  function restore() {
    const kept = Memory.read();
    wipe();
    ready = false;
    for (const one of exercises) one.restore(kept[one.key]);
    ready = true;
    if (kept.quizMarked === true && byId("mark-quiz")) markQuiz();
    drawRow();
  }

  function remember() {
    const before = Memory.code();
    if (!Memory.use(byId("code").value)) return codeSays(Say.text("tablet.code-first"));
    const found = Object.keys(Memory.read()).length > 0;
    if (!found && before && before !== Memory.code()) wipe(); // the marks shown were someone else's
    if (found) restore();
    else keep();
    const under = { code: Memory.code() };
    return codeSays(found ? Say.text("tablet.remembered-and-back", under) : Say.text("tablet.remembered", under));
  }

  function clear() {
    if (Memory.code() && !window.confirm(Say.text("tablet.clear-marks", { code: Memory.code() }))) return;
    Memory.clear();
    wipe();
    byId("code").value = "";
    codeSays(Say.text("tablet.cleared"));
    drawRow();
  }

  function openTablet() {
    if (!byId("code")) return;
    byId("remember").addEventListener("click", remember);
    byId("clear").addEventListener("click", clear);
    byId("code").addEventListener("keydown", (event) => {
      if (event.key === "Enter") remember();
    });
    if (!Memory.open(document.body.dataset)) return;
    byId("code").value = Memory.code();
    codeSays(Say.text("tablet.remembered", { code: Memory.code() }));
    restore();
  }

  function start() {
    Reading.load(Dom.json("units"));
    exercises = build();
    for (const one of exercises) one.changed = keep;
    ready = true;
    openTablet();
    byId("mark-quiz")?.addEventListener("click", markQuiz);
    byId("fresh-quiz")?.addEventListener("click", freshQuiz);
    drawRow();
  }

  start();
  document.documentElement.dataset.ready = "";
})();
