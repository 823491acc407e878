// The smaller promises of a workbook page.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { browser, findExercise, middle, open, pages, workbookPages } from "./site.mjs";

let chromium;
let context;
before(async () => {
  chromium = await browser();
  context = await chromium.newContext({ viewport: { width: 820, height: 1100 } });
});
after(async () => chromium.close());

const find = (mode, wanted, inside = context) => findExercise(inside, mode, wanted);

const single = (one) => one.kind === "numeric" && one.pull.parts.length === 1;
const several = (one) => one.kind === "numeric" && one.pull.parts.length > 1;
const focused = (page) => page.evaluate(() => document.activeElement.id);

test("typed text stays text, and marks that turn its direction are taken out", async () => {
  const found = await find("own", single);
  const input = found.at(`#${found.one.id}-0`);
  await input.fill("about \u202e<img src=x>");
  await input.press("Enter");
  const echo = found.at(".verdict bdi").first();
  assert.equal(await echo.textContent(), "about <img src=x>");
  assert.equal(await found.at(".verdict img").count(), 0);
  assert.equal(await found.at(".fresh").isVisible(), false, "what could not be read is no go");
});

test("Enter marks and leaves the focus in the field", async () => {
  const found = await find("own", several);
  const input = found.at(`#${found.one.id}-0`);
  await input.fill("0.00001");
  await input.press("Enter");
  assert.equal(await focused(found.page), `${found.one.id}-0`);
  assert.equal(await input.getAttribute("aria-invalid"), "true");
  await input.fill(middle(found.one.pull.parts[0].right));
  await input.press("Enter");
  assert.equal(await focused(found.page), `${found.one.id}-0`);
  assert.equal(await input.getAttribute("aria-invalid"), "false");
  await input.press("Enter");
  assert.equal(await focused(found.page), `${found.one.id}-1`, "a second Enter moves on");
});

test("the working alone leads on to the next part", async () => {
  const found = await find("own", several);
  const second = found.at(`#${found.one.id}-1`);
  for (let press = 0; press < 12 && !(await second.isVisible()); press += 1) await found.at(".more").click();
  assert.equal(await second.isVisible(), true);
  assert.equal(await found.at(".fresh").isVisible(), false);
});

test("Enter in the self-quiz moves on to the next blank and at last to the button", async () => {
  const found = await find("quiz", (one) => one.kind === "numeric");
  const fields = found.page.locator("#quiz .field input");
  const count = await fields.count();
  await fields.first().focus();
  for (let at = 0; at < count; at += 1) {
    await found.page.keyboard.type("1");
    await found.page.keyboard.press("Enter");
  }
  assert.equal(await focused(found.page), "mark-quiz");
  assert.equal(await found.page.locator("#quiz .verdict .said").count(), 0);
});

test("fresh numbers for the self-quiz empty it and change its questions", async () => {
  const found = await find("quiz", single);
  const asked = await found.at(".question").innerText();
  await found.at(`#${found.one.id}-0`).fill("1");
  assert.equal(await found.page.locator("#fresh-quiz").isVisible(), false);
  await found.page.click("#mark-quiz");
  await found.page.click("#fresh-quiz");
  assert.equal(await found.at(`#${found.one.id}-0`).inputValue(), "");
  assert.equal(await found.page.locator("#score").textContent(), "");
  assert.notEqual(await found.at(".question").innerText(), asked);
  assert.deepEqual(found.troubles, []);
});

test("a move is shifted from the keyboard and its button keeps the focus", async () => {
  const found = await find("own", (one) => one.kind === "order");
  const order = () => found.at(".moves").evaluate((list) => [...list.children].filter((move) => !move.hidden).map((move) => Number(move.dataset.n)));
  assert.deepEqual(await order(), found.one.pull.show);
  const [first, second] = found.one.pull.show;
  await found.at(`[data-n="${first}"] [data-by="1"]`).focus();
  await found.page.keyboard.press("Enter");
  assert.deepEqual((await order()).slice(0, 2), [second, first]);
  assert.equal(await found.page.evaluate(() => document.activeElement.closest("[data-n]").dataset.n), String(first));
  assert.match(await found.at("[data-moved]").textContent(), /^Now 2 of \d+\.$/);
});

test("a safety step out of place is named", async () => {
  const found = await find("own", (one) => one.kind === "order" && one.pull.pairs.some((pair) => pair.safety));
  const late = found.one.pull.pairs.find((pair) => pair.safety).first;
  await found.at(`[data-n="${late}"] select`).selectOption({ value: String(found.one.pull.show.length - 1) });
  await found.at(".press").click();
  assert.match(await found.at(".verdict").innerText(), /safety step is out of place/);
});

test("all right ones and no other must be picked where several are right", async () => {
  const found = await find("own", (one) => one.kind === "choose" && one.pick === "some");
  const right = found.one.pull.show.filter((number) => found.one.data.options[number].right);
  await found.at(".press").click();
  assert.match(await found.at(".verdict").innerText(), /Nothing picked yet/);
  await found.at(`input[value="${right[0]}"]`).check();
  await found.at(".press").click();
  assert.match(await found.at(".verdict").innerText(), right.length > 1 ? /Wrong\./ : /Right\./);
  for (const number of right) await found.at(`input[value="${number}"]`).check();
  await found.at(".press").click();
  return assert.match(await found.at(".verdict").innerText(), /Right\./);
});

test("nothing is stored before a code is typed, and one code does not see another's marks", async () => {
  const own = await chromium.newContext();
  const found = await find("own", single, own);
  const stored = () => found.page.evaluate(() => localStorage.length + sessionStorage.length);
  const input = found.at(`#${found.one.id}-0`);
  await input.fill(middle(found.one.pull.parts[0].right));
  await input.press("Enter");
  assert.equal(await stored(), 0);
  await found.page.fill("#code", "first");
  await found.page.press("#code", "Enter");
  assert.equal(await stored(), 2);
  const other = await open(own, found.page.url().replace("file://", ""));
  assert.equal(await other.page.locator(`#${found.one.id}-0`).inputValue(), "", "a new tab starts clean");
  await other.page.fill("#code", "second");
  await other.page.click("#remember");
  assert.equal(await other.page.locator(`#${found.one.id}-0`).inputValue(), "");
  await other.page.fill("#code", "FIRST");
  await other.page.click("#remember");
  assert.notEqual(await other.page.locator(`#${found.one.id}-0`).inputValue(), "");
  await own.close();
});

test("targets of the register row are 44 pixels and lead to their exercise", async () => {
  const { page } = await open(context, workbookPages[0]);
  for (const link of await page.locator(".progress .row a").all()) {
    const box = await link.boundingBox();
    assert.ok(box.width >= 44 && box.height >= 44, JSON.stringify(box));
    assert.equal(await page.locator(await link.getAttribute("href")).count(), 1);
  }
});

test("no page carries a style attribute or an id twice", async () => {
  for (const file of pages) {
    const { page } = await open(context, file);
    const found = await page.evaluate(() => {
      const ids = [...document.querySelectorAll("[id]")].map((node) => node.id);
      return { styled: document.querySelectorAll("[style]").length, twice: ids.filter((id, at) => ids.indexOf(id) !== at) };
    });
    assert.deepEqual(found, { styled: 0, twice: [] }, file);
    await page.close();
  }
});

test("text at twice the size still fits", async () => {
  const narrow = await chromium.newContext({ viewport: { width: 640, height: 800 } });
  const { page } = await open(narrow, workbookPages[0]);
  await page.evaluate(() => document.styleSheets[0].insertRule("html { font-size: 34px !important }", document.styleSheets[0].cssRules.length));
  const wide = await page.evaluate(() => document.documentElement.scrollWidth);
  assert.ok(wide <= 640, `${wide} pixels wide`);
  await narrow.close();
});
