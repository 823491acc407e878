// A shop tablet as it comes: touched with gloves off, with several pages open, with a wrong clock, with nothing it may keep.
import assert from "node:assert/strict";
import fs from "node:fs";
import { after, before, test } from "node:test";
import { blanks, named } from "./quiz.mjs";
import { browser, findExercise, middle, open, pages } from "./site.mjs";

let chromium;
before(async () => {
  chromium = await browser();
});
after(async () => chromium.close());

const touched = () => chromium.newContext({ viewport: { width: 820, height: 1100 }, hasTouch: true, isMobile: true });
const single = (one) => one.kind === "numeric" && one.pull.parts.length === 1;

async function closed(page) {
  const [download] = await Promise.all([page.waitForEvent("download"), page.tap("#close")]);
  return JSON.parse(fs.readFileSync(await download.path(), "utf8"));
}

test("a workbook page is worked with a finger", async () => {
  const context = await touched();
  const found = await findExercise(context, "own", single);
  await found.at(`#${found.one.id}-0`).tap();
  await found.page.keyboard.type(middle(found.one.pull.parts[0].right));
  await found.at(".press.mark").tap();
  assert.match(await found.at(".verdict").innerText(), /Right\./);
  const order = await findExercise(context, "own", (one) => one.kind === "order");
  const moves = () => order.at(".moves").evaluate((list) => [...list.children].filter((move) => !move.hidden).map((move) => Number(move.dataset.n)));
  const [upper, lower] = order.one.pull.show;
  await order.at(`[data-n="${upper}"] [data-by="1"]`).tap();
  assert.deepEqual((await moves()).slice(0, 2), [lower, upper]);
  const choice = await findExercise(context, "own", (one) => one.kind === "choose");
  await choice.at(".options label").first().tap();
  assert.equal(await choice.at(".options input:checked").count(), 1);
  assert.deepEqual([...found.troubles, ...order.troubles, ...choice.troubles], []);
  await context.close();
});

test("a docket is filled in and closed with a finger", async () => {
  const context = await touched();
  const { page, troubles } = await open(context, named[0]);
  const choice = page.locator('.exercise[data-kind="choose"]').first();
  await choice.locator(".options label").first().tap();
  await page.locator('.exercise[data-kind="order"] [data-by="1"]').first().tap();
  await page.locator('.exercise[data-kind="numeric"] .field input').first().tap();
  await page.keyboard.type("12");
  const sent = await closed(page);
  assert.ok(sent.answers.some((answers) => answers.includes("12")), JSON.stringify(sent.answers));
  assert.deepEqual(troubles, []);
  await context.close();
});

test("who leaves a docket and comes back finds the answers", async () => {
  const context = await touched();
  const { page } = await open(context, named[0]);
  page.on("dialog", (dialog) => dialog.accept());
  await page.locator('.exercise[data-kind="numeric"] .field input').first().fill("12");
  await page.goto(`file://${pages[0]}`);
  await page.goBack();
  assert.equal(await page.locator('.exercise[data-kind="numeric"] .field input').first().inputValue(), "12");
  await context.close();
});

test("the same docket in two tabs keeps what was typed last and loses nothing in sight", async () => {
  const context = await touched();
  const [one, two] = [(await open(context, named[0])).page, (await open(context, named[0])).page];
  const field = (page) => page.locator('.exercise[data-kind="numeric"] .field input').first();
  await field(one).fill("12");
  await field(two).fill("13");
  assert.deepEqual([await field(one).inputValue(), await field(two).inputValue()], ["12", "13"]);
  assert.equal(await field((await open(context, named[0])).page).inputValue(), "13");
  await one.bringToFront();
  const sent = await closed(one);
  assert.ok(sent.answers.some((answers) => answers.includes("12")), "each tab closes what it shows");
  await context.close();
});

test("the clock of the tablet changes nothing but the time that the return carries", async () => {
  const returns = [];
  for (const now of ["1970-01-01T00:00:30", "2099-12-31T23:59:30"]) {
    const context = await touched();
    const page = await context.newPage();
    await page.clock.setFixedTime(new Date(now));
    await page.goto(`file://${named[0]}`);
    await page.locator('.exercise[data-kind="numeric"] .field input').first().fill("12");
    const { closed_at: at, ...rest } = await closed(page);
    assert.equal(at, now.slice(0, 16));
    returns.push(rest);
    await context.close();
  }
  assert.deepEqual(returns[0], returns[1]);
});

test("a tablet that keeps nothing still marks, and says that nothing is remembered", async () => {
  const context = await touched();
  await context.addInitScript(() => {
    Storage.prototype.getItem = Storage.prototype.setItem = () => { throw new Error("refused"); };
  });
  const found = await findExercise(context, "own", single);
  await found.page.fill("#code", "ab12");
  await found.page.tap("#remember");
  await found.at(`#${found.one.id}-0`).fill(middle(found.one.pull.parts[0].right));
  await found.at(".press.mark").tap();
  assert.match(await found.at(".verdict").innerText(), /Right\./);
  assert.match(await found.page.locator(".tablet").innerText(), /keeps nothing|not remembered|cannot|refus/);
  assert.deepEqual(found.troubles, []);
  await context.close();
});

test("a page whose script fails says that it did not run", async () => {
  const context = await chromium.newContext();
  await context.addInitScript(() => {
    JSON.parse = () => { throw new Error("broken on purpose"); };
  });
  for (const [file, says] of [[blanks[0], /did not run/], [pages.find((name) => /predict-ink-film/.test(name)), /Open me in the browser/]]) {
    const { page } = await open(context, file);
    assert.match(await page.locator("#first-line").innerText(), says);
    assert.equal(await page.locator(".live:visible").count(), 0);
  }
  await context.close();
});
