// Fills in dockets in Chromium as an apprentice does, closes them, and keeps the files they save.
// Reads what to do from standard input: [{ docket, save, answers }], the answers as in a return.
import assert from "node:assert/strict";
import fs from "node:fs";
import { browser, open } from "./chromium.mjs";

/** Types into each field of an exercise. */
async function type(section, texts) {
  const fields = section.locator(".part input");
  assert.equal(await fields.count(), texts.length);
  for (const [at, text] of texts.entries()) await fields.nth(at).fill(text);
}

/** Moves each move to its place, the first one first. */
async function move(section, numbers) {
  if (numbers.length === 0) return;
  const laidOut = () => section.locator(".moves li").evaluateAll((all) => all.map((one) => one.dataset.n));
  if ((await laidOut()).join() === numbers.join()) await section.locator("[data-stands]").click();
  for (const [place, number] of numbers.entries()) {
    if ((await laidOut())[place] !== number) await section.locator(`[data-n="${number}"] select`).selectOption({ value: String(place) });
  }
}

/** Ticks the options of each question. */
async function tick(section, texts) {
  const questions = section.locator(".whole");
  assert.equal(await questions.count(), texts.length);
  for (const [at, text] of texts.entries()) {
    for (const number of numbersOf(text)) await questions.nth(at).locator(`[data-n="${number}"] input`).check();
  }
}

/** Does moves one at a time. */
async function play(section, numbers) {
  for (const number of numbers) await section.locator(`[data-n="${number}"] [data-does]`).click();
}

const numbersOf = (text) => text.split(" ").filter(Boolean);

const chromium = await browser();
for (const { docket, save, answers } of JSON.parse(fs.readFileSync(0, "utf8"))) {
  const context = await chromium.newContext({ viewport: { width: 820, height: 1100 }, acceptDownloads: true });
  const { page, troubles } = await open(context, docket);
  const sections = await page.locator(".exercise").all();
  assert.equal(sections.length, answers.length);
  for (const [at, section] of sections.entries()) {
    const kind = await section.getAttribute("data-kind");
    if (kind === "numeric") await type(section, answers[at]);
    else if (kind === "order") await move(section, numbersOf(answers[at][0]));
    else if (kind === "rounds") await play(section, numbersOf(answers[at][0]));
    else await tick(section, answers[at]);
  }
  const [download] = await Promise.all([page.waitForEvent("download"), page.click("#close")]);
  await download.saveAs(save);
  assert.deepEqual(troubles, [], docket);
  await context.close();
}
await chromium.close();
