// What the checkers say of the coordinator's pages, how they narrow down, and how they print.
import assert from "node:assert/strict";
import fs from "node:fs";
import path from "node:path";
import { after, before, test } from "node:test";
import { page as pageOf, pages, records, stages } from "./board.mjs";
import { holdToAxe, holdToHtml, holdToSmallScreens, printed, show, withEach } from "./checks.mjs";
import { browser } from "./site.mjs";

let chromium;
before(async () => {
  chromium = await browser();
});
after(async () => chromium.close());

const onDesk = (file, settings = {}) => show(chromium, file, { viewport: { width: 1280, height: 900 }, ...settings });
const people = (page) => page.locator(".person:visible").count();

test("the Nu HTML checker reports nothing on the board", () => holdToHtml(pages));

test("axe-core reports nothing on the board", async () => {
  const some = [pageOf("index"), pageOf("standing"), pageOf("programme"), ...stages.slice(0, 2), ...records.slice(0, 2)];
  await withEach(some, async (file) => {
    const { page, context } = await onDesk(file, { bypassCSP: true });
    for (const details of await page.locator("details").all()) await details.evaluate((one) => { one.open = true; });
    await holdToAxe(page, file);
    await context.close();
  });
});

test("320 pixels and text at twice the size are enough, and pages stay under a megabyte", async () => {
  for (const file of [pageOf("index"), pageOf("standing"), pageOf("programme"), stages[0], records[0]]) {
    const { page, context, troubles } = await onDesk(file);
    await holdToSmallScreens(page, file);
    assert.deepEqual(troubles, []);
    await context.close();
  }
  for (const file of pages) assert.ok(fs.statSync(file).size < 1_000_000, file);
});

test("a name or code narrows the board down, and all come back", async () => {
  const { page, context } = await onDesk(pageOf("index"));
  const all = await people(page);
  assert.ok(all > 1);
  const code = (await page.locator(".person").first().getAttribute("id")).slice(2);
  await page.locator("#who").focus();
  await page.keyboard.type(code.toUpperCase());
  assert.ok((await people(page)) >= 1 && (await people(page)) < all);
  assert.match(await page.locator("#shown").innerText(), new RegExp(`^\\d+ of ${all} apprentices shown\\.$`));
  await page.getByRole("button", { name: "Show all" }).press("Enter");
  await page.waitForFunction((count) => document.querySelectorAll(".person:not([hidden])").length === count, all);
  assert.equal(await page.locator("#shown").innerText(), `All ${all} apprentices shown.`);
  await context.close();
});

test("stage and state narrow strips, blocks and competencies together", async () => {
  const { page, context } = await onDesk(pageOf("index"));
  const stage = await page.locator("#stage option").nth(1).getAttribute("value");
  await page.selectOption("#stage", stage);
  const blocks = await page.locator(".person:visible .blocks > li:visible").count();
  assert.equal(blocks, await people(page), "one block a strip");
  for (const state of ["w", "o", "r", "s", "l", "h"]) {
    await page.selectOption("#state", state);
    for (const details of await page.locator(".person:visible details").all()) await details.evaluate((one) => { one.open = true; });
    for (const person of await page.locator(".person:visible").all()) {
      const states = await person.locator("details li:visible").evaluateAll((list) => list.map((one) => one.dataset.s));
      assert.ok(states.length > 0 && states.every((one) => one === state), `${state}: ${states}`);
    }
  }
  await context.close();
});

test("a stage's table narrows down to the rows that have a state", async () => {
  const { page, context } = await onDesk(stages[0]);
  const rows = page.locator("tbody tr:visible");
  const all = await rows.count();
  for (const state of ["w", "o", "r", "s", "l", "h"]) {
    const wanted = await page.locator(`tbody tr:has(td[data-s="${state}"])`).count();
    await page.selectOption("#state", state);
    assert.equal(await rows.count(), wanted, state);
  }
  await page.selectOption("#state", "");
  assert.equal(await rows.count(), all);
  await context.close();
});

test("without script everything is shown and no filter is offered", async () => {
  const context = await chromium.newContext({ javaScriptEnabled: false });
  const page = await context.newPage();
  await page.goto(`file://${pageOf("index")}`);
  assert.equal(await people(page), await page.locator(".person").count());
  assert.equal(await page.locator("#filters").isVisible(), false);
  await page.locator(".person summary").first().click();
  assert.ok(await page.locator(".person details a").first().isVisible());
  await context.close();
});

test("every link of the board leads to a page and a place that are there", () => {
  const texts = new Map(pages.map((file) => [path.basename(file), fs.readFileSync(file, "utf8")]));
  const ids = new Map([...texts].map(([name, text]) => [name, new Set([...text.matchAll(/ id="([^"]+)"/g)].map((found) => found[1]))]));
  for (const [name, text] of texts) {
    for (const [, href] of text.matchAll(/<a [^>]*href="([^"]+)"/g)) {
      const [file, place] = href.split("#");
      assert.ok(texts.has(file || name), `${name}: ${href}`);
      assert.ok(!place || ids.get(file || name).has(place), `${name}: ${href}`);
    }
  }
});

test("a cell leads to its evidence", async () => {
  const { page, context } = await onDesk(stages[0]);
  const link = page.locator("tbody td a").first();
  const href = await link.getAttribute("href");
  await link.click();
  const place = page.locator(`[id="${href.split("#")[1]}"]`);
  assert.ok(await place.isVisible());
  await context.close();
});

test("every page carries the same head, and so does its printed form", async () => {
  const heads = new Set();
  for (const file of pages) {
    const found = fs.readFileSync(file, "utf8").match(/Facts and head<\/dt><dd>(\d+:[0-9a-f]{20})</);
    assert.ok(found, file);
    heads.add(found[1]);
  }
  assert.equal(heads.size, 1);
  const { page, context } = await onDesk(records[0]);
  await page.emulateMedia({ media: "print" });
  assert.match(await page.locator(".signatures .chain").innerText(), new RegExp([...heads][0]));
  assert.equal(await page.locator(".all-evidence").isVisible(), false);
  await context.close();
});

test("a training record prints on two pages at most, in nothing smaller than 8 points", async () => {
  const { page, context } = await onDesk(records[0]);
  for (const file of records) {
    await page.goto(`file://${file}`);
    for (const format of ["A4", "Letter"]) {
      const count = await printed(page, format);
      assert.ok(count <= 2, `${path.basename(file)} has ${count} pages on ${format}`);
    }
    await page.emulateMedia({ media: "print" });
    const small = await page.evaluate(() => {
      const walker = document.createTreeWalker(document.querySelector("main"), NodeFilter.SHOW_TEXT);
      const found = [];
      while (walker.nextNode()) {
        const node = walker.currentNode.parentElement;
        const seen = walker.currentNode.textContent.trim() && node.getClientRects().length && !node.closest("sup, .spoken");
        const size = parseFloat(getComputedStyle(node).fontSize);
        if (seen && size < 10.6) found.push(`${size}: ${walker.currentNode.textContent.trim()}`);
      }
      return found;
    });
    assert.deepEqual(small, [], path.basename(file));
    await page.emulateMedia({ media: null });
  }
  await context.close();
});

test("nothing is told by colour alone: each standing has its word and its own mark", async () => {
  const { page, context } = await onDesk(stages[0]);
  const cells = await page.locator("tbody td a").evaluateAll((list) => list.map((one) => [one.textContent.trim(), one.querySelector("use").getAttribute("href")]));
  const marks = new Map();
  for (const [word, mark] of cells) {
    assert.match(word, /^(waiting|open|ready|signed|lapsed|held)$/);
    assert.equal(marks.get(mark) ?? word, word);
    marks.set(mark, word);
  }
  await context.close();
});
