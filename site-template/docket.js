// A docket: keeps what is answered on this tablet, reads it back, and saves the return.
// Nothing here knows what is asked for beyond its unit.
(() => {
  "use strict";

  const KINDS = { numeric: DocketNumbers, order: DocketOrder, choose: DocketChoice, rounds: DocketRounds };
  const LONGEST = 200; // characters of one answer
  const CODE = /^[A-Za-z0-9](?:[A-Za-z0-9.-]{0,22}[A-Za-z0-9-])?$/;

  const byId = (id) => document.getElementById(id);
  const docket = Dom.json("docket");
  const place = `gearside|docket|${docket.quiz}|${docket.docket}`;
  const { make, quietly } = Dom;
  const says = (id, text) => {
    if (byId(id).textContent !== text) byId(id).textContent = text;
  };

  let exercises = [];
  let closed = null; // when the return was saved, under which name, and what was in it

  // ---- what is answered ----

  /** Text as a return may carry it: no control characters, no halves of characters. */
  const plain = (text) => Array.from(text.replace(/\p{Cc}|\p{Cs}/gu, " ").trim()).slice(0, LONGEST).join("");
  const answers = () => exercises.map((one) => one.answer.texts().map(plain));
  const code = () => (byId("your-code") ? byId("your-code").value.trim() : docket.person);
  const stamp = () => JSON.stringify([code(), answers()]);
  const anything = () => answers().flat().some((text) => text !== "") || (byId("your-code") !== null && code() !== "");
  const unsaved = () => (closed ? closed.stamp !== stamp() : anything());

  function build() {
    return [...document.querySelectorAll(".exercise[data-kind]")].map((section) => {
      const answer = new KINDS[section.dataset.kind](section, byId("close"));
      answer.changed = (settled) => changed(settled);
      return { number: section.dataset.number, title: section.querySelector("h2").textContent, answer };
    });
  }

  function changed(settled) {
    keep();
    if (settled) review();
  }

  // ---- what this tablet keeps ----

  function keep() {
    const kept = JSON.stringify({ shown: docket.shown, code: code(), answers: answers(), closed });
    const done = quietly(() => {
      localStorage.setItem(place, kept);
      if (!anything() && !closed) localStorage.removeItem(place);
      return true;
    }, false);
    if (!done) says("kept", `${Say.text("tablet.keeps-nothing")} ${Say.text("docket.do-not-leave")}`);
  }

  /** Whether something kept fits this docket: one text for each answer. */
  function fits(kept) {
    if (!kept || kept.shown !== docket.shown || !Array.isArray(kept.answers)) return false;
    const now = answers();
    const same = (texts, index) => Array.isArray(texts) && texts.length === now[index].length && texts.every((text) => typeof text === "string");
    return kept.answers.length === now.length && kept.answers.every(same);
  }

  function restore() {
    const kept = quietly(() => JSON.parse(localStorage.getItem(place)), null);
    if (!fits(kept)) return false;
    exercises.forEach((one, index) => one.answer.put(kept.answers[index]));
    if (byId("your-code")) byId("your-code").value = String(kept.code || "");
    closed = kept.closed && typeof kept.closed.stamp === "string" ? kept.closed : null;
    return anything();
  }

  // ---- before closing: what is blank, and every answer as read ----

  function review() {
    const all = exercises.flatMap((one) => one.answer.answers().map((answer) => ({ ...answer, one })));
    const blank = all.filter((answer) => answer.blank);
    says("still-blank", blank.length === 0 ? Say.text("docket.nothing-blank") : Say.text("docket.blank-answers", { n: blank.length, all: all.length }));
    byId("blanks").replaceChildren(...blank.map((answer) => make("li", "", linkTo(answer))));
    byId("as-read").replaceChildren(...exercises.map((one) => make("div", "", make("dt", "", `${one.number} ${one.title}`), ...one.answer.answers().map(asRead))));
    showClosed();
  }

  function linkTo({ one, label, at }) {
    const link = make("a", "", make("b", "", one.number), ` ${one.title}${label ? `: ${label}` : ""}`);
    link.href = `#${at}`;
    return link;
  }

  function asRead({ label, blank, says: nodes }) {
    const what = label ? [make("span", "what", `${label}: `)] : [];
    return make("dd", "", ...what, ...(blank ? [make("i", "", Say.text("docket.blank"))] : nodes));
  }

  // ---- closing: saves the return ----

  const two = (number) => String(number).padStart(2, "0");

  /** Now, by the clock of this tablet: `2026-11-25T10:20`. */
  function now() {
    const date = new Date();
    return `${date.getFullYear()}-${two(date.getMonth() + 1)}-${two(date.getDate())}T${two(date.getHours())}:${two(date.getMinutes())}`;
  }

  function theReturn(at) {
    const { quiz, docket: own, shown } = docket;
    return JSON.stringify({ gearside: "return", way: 1, quiz, docket: own, person: code(), shown, answers: answers(), closed_at: at });
  }

  function codeIsFine() {
    const input = byId("your-code");
    if (!input) return true;
    const fine = CODE.test(code());
    input.setAttribute("aria-invalid", !fine);
    says("your-code-says", fine ? "" : [code() ? "" : Say.text("docket.code-missing"), Say.text("docket.code-says")].join(" ").trim());
    return fine;
  }

  function save(text, name) {
    return quietly(() => {
      const link = make("a", "");
      link.href = URL.createObjectURL(new Blob([text], { type: "application/json" }));
      link.download = name;
      document.body.append(link);
      link.click();
      link.remove();
      setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
      return true;
    }, false);
  }

  function close() {
    review();
    if (!codeIsFine()) {
      says("closed", Say.text("docket.not-closed"));
      byId("your-code").focus();
      return;
    }
    const at = now();
    const name = `return-${docket.quiz}-${code().toLowerCase()}.json`;
    const saved = save(theReturn(at), name);
    closed = { at, name, saved, stamp: stamp() };
    keep();
    showClosed();
  }

  function showClosed() {
    byId("return").hidden = !closed;
    if (!closed) return;
    byId("return-text").value = theReturn(closed.at);
    if (!closed.saved) byId("return").querySelector("details").open = true;
    const time = closed.at.slice(11);
    const again = closed.stamp !== stamp();
    const where = closed.saved
      ? [make("p", "", ...Say.nodes("docket.file-went", { file: make("b", "file", closed.name) })), make("p", "", Say.text("docket.give-the-file"))]
      : [make("p", "", Say.text("docket.file-refused"))];
    const said = again
      ? [make("p", "", make("b", "", Say.text("docket.changed-since", { time })), ` ${Say.text("docket.close-again")}`)]
      : [make("p", "", make("b", "", Say.text("docket.closed-at", { time }))), ...where, make("p", "", Say.text("docket.may-still-change"))];
    byId("closed").replaceChildren(...said);
  }

  async function copy() {
    const box = byId("return-text");
    box.select();
    const byHand = () => quietly(() => document.execCommand("copy"), false);
    const done = navigator.clipboard ? await navigator.clipboard.writeText(box.value).then(() => true, byHand) : byHand();
    says("copied", done ? Say.text("docket.copied") : Say.text("docket.not-copied"));
  }

  function clear() {
    const file = unsaved() ? Say.text("docket.not-all-in-a-file") : Say.text("docket.file-stays");
    if (!window.confirm(`${Say.text("docket.take-off")} ${file}`)) return;
    for (const one of exercises) one.answer.put(one.answer.texts().map(() => ""));
    if (byId("your-code")) byId("your-code").value = "";
    closed = null;
    quietly(() => localStorage.removeItem(place));
    review();
    byId("return-text").value = "";
    says("closed", Say.text("docket.cleared"));
    byId("close").focus(); // the button has just gone
  }

  function start() {
    Reading.load(Dom.json("units"));
    exercises = build();
    says("kept", restore() ? Say.text("docket.answers-back") : Say.text("docket.answers-kept"));
    if (byId("your-code")) {
      byId("your-code").addEventListener("input", keep);
      byId("your-code").addEventListener("change", () => afterPress(() => {
        codeIsFine();
        showClosed();
      }));
    }
    document.addEventListener("input", () => {
      if (!closed) says("closed", ""); // what was said of closing is past
    });
    byId("close").addEventListener("click", close);
    byId("copy").addEventListener("click", copy);
    byId("clear").addEventListener("click", clear);
    window.addEventListener("beforeunload", (event) => {
      if (!unsaved()) return;
      event.preventDefault();
      event.returnValue = ""; // browsers of some years ago go by this
    });
    keep();
    review();
  }

  start();
  document.documentElement.dataset.ready = "";
})();
