// Narrows the board down, and fills a strip when it is opened. Without it everything is shown.
(() => {
  "use strict";

  const SVG = "http://www.w3.org/2000/svg";
  const byId = (id) => document.getElementById(id);
  const data = byId("strips") ? JSON.parse(byId("strips").textContent) : null;
  const value = (id) => (byId(id) ? byId(id).value : "");

  function make(tag, ...children) {
    const node = document.createElement(tag);
    node.append(...children);
    return node;
  }

  function mark(letter) {
    const svg = document.createElementNS(SVG, "svg");
    const use = document.createElementNS(SVG, "use");
    svg.setAttribute("class", "web");
    svg.setAttribute("aria-hidden", "true");
    use.setAttribute("href", `#web-${letter}`);
    svg.append(use);
    return svg;
  }

  // ---- opening a strip: names stand between two marks that keep their direction apart ----

  const said = (text) => text.split(/[\u2068\u2069]/).map((part, at) => (at % 2 ? make("bdi", part) : part));

  function line(cell, [, id, title], file) {
    const letter = cell[0];
    const phrases = cell.slice(1).split(".").filter(Boolean).map((number) => data.phrases[parseInt(number, 36)]);
    const link = make("a", title);
    link.href = `${file}#competency-${id}`;
    const one = make("li", link, " ", make("span", mark(letter), make("b", data.words[letter]), ...said(phrases.join(""))));
    one.dataset.s = letter;
    return one;
  }

  function fill(details) {
    const person = details.closest(".person");
    const cells = data.people[person.id.slice(2)].split(" ");
    const file = person.querySelector("h3 a").getAttribute("href");
    const sections = data.stages.map((stage) => {
      const lines = stage.competencies.map((one) => line(cells[one[0]], one, file));
      const section = make("section", make("h4", stage.title), make("ul", ...lines));
      section.dataset.stage = stage.id;
      return section;
    });
    details.querySelector("summary").after(...sections);
    narrowInside(person, value("stage"), value("state"));
  }

  for (const details of document.querySelectorAll("details[data-fill]")) {
    details.addEventListener("toggle", () => fill(details), { once: true });
  }

  // ---- narrowing down ----

  function narrowInside(person, stage, state) {
    const stages = byId("stage") ? [...byId("stage").options].map((option) => option.value).slice(1) : [];
    person.querySelectorAll(".blocks > li").forEach((block, at) => {
      block.hidden = Boolean(stage) && stages[at] !== stage;
    });
    for (const section of person.querySelectorAll("details section")) {
      for (const one of section.querySelectorAll("li")) one.hidden = Boolean(state) && one.dataset.s !== state;
      section.hidden = (Boolean(stage) && section.dataset.stage !== stage) || !section.querySelector("li:not([hidden])");
    }
  }

  /** Whether a strip or a row has the state that is wanted, in the stage that is wanted. */
  function has(one, state) {
    if (!state) return true;
    if (one.matches("tr")) return Boolean(one.querySelector(`[data-s="${state}"]`));
    return [...one.querySelectorAll(".blocks > li:not([hidden])")].some((block) => block.dataset.in.includes(state));
  }

  function narrow() {
    const who = value("who").trim().toLowerCase();
    const [ofClass, stage, state] = ["class", "stage", "state"].map(value);
    const all = document.querySelectorAll(".person, tbody tr[data-name]");
    let shown = 0;
    for (const one of all) {
      if (!one.matches("tr")) narrowInside(one, stage, state);
      const named = one.dataset.name.includes(who) || one.id.slice(2).includes(who);
      one.hidden = !(named && (!ofClass || one.dataset.class === ofClass) && has(one, state));
      if (!one.hidden) shown += 1;
    }
    for (const group of document.querySelectorAll(".group")) group.hidden = !group.querySelector(".person:not([hidden])");
    document.body.dataset.state = state;
    const counted = { n: all.length, shown };
    byId("shown").textContent = shown === all.length ? Say.text("board.all-shown", counted) : Say.text("board.some-shown", counted);
  }

  const filters = byId("filters");
  if (filters) {
    filters.addEventListener("input", narrow);
    filters.addEventListener("change", narrow);
    filters.addEventListener("submit", (event) => event.preventDefault());
    filters.addEventListener("reset", () => setTimeout(narrow));
    narrow();
  }
  document.documentElement.dataset.ready = "";
})();
