// What an apprentice does on a docket, from the first number to the return file.
import assert from "node:assert/strict";
import fs from "node:fs";
import { after, before, test } from "node:test";
import { holdToAxe, holdToHtml, holdToPolicy, holdToSmallScreens, printed, show, withEach } from "./checks.mjs";
import { blanks, commaDockets, dockets, instructors, named } from "./quiz.mjs";
import { browser, open } from "./site.mjs";

let chromium;
before(async () => {
  chromium = await browser();
});
after(async () => chromium.close());

/** A docket on a tablet of its own. */
const onTablet = (file = named[0], settings = {}) => show(chromium, file, settings);

const first = (page, kind, more = "") => page.locator(`.exercise[data-kind="${kind}"]`).first().locator(more || ":scope");
const data = (page) => page.evaluate(() => JSON.parse(document.getElementById("docket").textContent));
const place = (page, kind) => page.evaluate((wanted) => [...document.querySelectorAll(".exercise")].findIndex((one) => one.dataset.kind === wanted), kind);
const answersOf = (page) => page.evaluate(() => [...document.querySelectorAll(".exercise")].map((one) => one.querySelectorAll(".part").length || 1));

async function close(page) {
  const [download] = await Promise.all([page.waitForEvent("download"), page.click("#close")]);
  return { name: download.suggestedFilename(), text: fs.readFileSync(await download.path(), "utf8") };
}

/** Fills in a number, an order and a choice; gives the answers a return must carry. */
async function fillIn(page) {
  const field = first(page, "numeric", "input").first();
  await field.fill(" 0,81 ");
  await first(page, "order", '[data-n="3"] select').selectOption({ value: "0" });
  await first(page, "choose", '[data-n="2"] input').check();
  const answers = (await answersOf(page)).map((count) => new Array(count).fill(""));
  const moves = await first(page, "order", ".moves li").count();
  answers[await place(page, "numeric")][0] = "0,81";
  answers[await place(page, "order")][0] = [3, ...Array.from({ length: moves }, (_, at) => at + 1).filter((n) => n !== 3)].join(" ");
  answers[await place(page, "choose")][0] = "2";
  return answers;
}

test("closing saves a return with the answers as typed and the numbers as shown", async () => {
  const { page, context, troubles } = await onTablet();
  const answers = await fillIn(page);
  const { name, text } = await close(page);
  const own = await data(page);
  const { closed_at: at, ...rest } = JSON.parse(text);
  assert.deepEqual(rest, { gearside: "return", way: 1, quiz: own.quiz, docket: own.docket, person: own.person, shown: own.shown, answers });
  assert.deepEqual(Object.keys(JSON.parse(text)), ["gearside", "way", "quiz", "docket", "person", "shown", "answers", "closed_at"]);
  assert.match(at, /^\d{4}-\d\d-\d\dT\d\d:\d\d$/);
  assert.equal(name, `return-${own.quiz}-${own.person.toLowerCase()}.json`);
  assert.match(await page.locator("#closed").innerText(), new RegExp(`Closed at .*${name}.*instructor`, "s"));
  assert.equal(await page.locator("#return-text").inputValue(), text);
  assert.deepEqual(troubles, []);
  await context.close();
});

test("a number is read back where it was typed, once the field is left", async () => {
  const { page, context } = await onTablet();
  const part = first(page, "numeric", ".part").first();
  const [field, echo, unit] = [part.locator("input"), part.locator(".echo"), await part.getAttribute("data-unit")];
  await field.fill("0,81");
  assert.equal(await echo.innerText(), "");
  await field.blur();
  assert.equal(await echo.innerText(), `Read as ${["0.81", unit].filter(Boolean).join(" ")}.`);
  for (const [typed, said] of [["3 furlongs", /unit is not known/], ["about <b>three</b>", /could not be read/], ["", /^$/]]) {
    await field.fill(typed);
    await field.blur();
    assert.match(await echo.innerText(), said);
  }
  assert.equal(await page.locator(".echo b").count(), 0);
  await context.close();
});

test("the order as laid out is a blank until it is touched, and can be taken back", async () => {
  const { page, context } = await onTablet();
  const order = first(page, "order");
  const at = await place(page, "order");
  const answer = async () => JSON.parse((await close(page)).text).answers[at][0];
  assert.equal(await answer(), "");
  await order.locator("[data-stands]").click();
  const whole = (await answer()).split(" ").map(Number);
  assert.deepEqual(whole, whole.map((_, index) => index + 1));
  assert.equal(await page.evaluate(() => document.activeElement.hasAttribute("data-back")), false, "closing took the focus");
  await order.locator('[data-n="1"] [data-by="1"]').click();
  assert.match(await answer(), /^2 1 3/);
  await order.locator("[data-back]").click();
  assert.ok(await page.evaluate(() => document.activeElement.hasAttribute("data-stands")));
  assert.equal(await answer(), "");
  assert.deepEqual(await order.locator(".moves li").evaluateAll((all) => all.map((one) => Number(one.dataset.n))), whole);
  await context.close();
});

test("a pick can be taken back, and several can be picked", async () => {
  const { page, context } = await onTablet();
  const one = page.locator('.exercise:has([type="radio"])').first();
  await one.locator("input").nth(1).check();
  await one.locator("[data-back]").click();
  assert.equal(await one.locator("input:checked").count(), 0);
  const some = page.locator('.exercise:has([type="checkbox"])').first();
  await some.locator("input").nth(3).check();
  await some.locator("input").nth(0).check();
  const number = Number(await some.getAttribute("data-number"));
  assert.deepEqual(JSON.parse((await close(page)).text).answers[number - 1], ["1 4"]);
  await context.close();
});

test("a reload keeps every answer, and that the docket was closed", async () => {
  const { page, context } = await onTablet();
  const answers = await fillIn(page);
  page.on("dialog", (dialog) => dialog.accept());
  await page.reload();
  assert.match(await page.locator("#kept").innerText(), /are back/);
  assert.deepEqual(JSON.parse((await close(page)).text).answers, answers);
  await page.reload();
  assert.match(await page.locator("#closed").innerText(), /Closed at/);
  await first(page, "numeric", "input").first().fill("1");
  await first(page, "numeric", "input").first().blur();
  assert.match(await page.locator("#closed").innerText(), /Changed since it was closed.*Close the docket again/s);
  await close(page);
  assert.match(await page.locator("#closed").innerText(), /^Closed at/);
  await context.close();
});

test("one docket does not see the answers of another", async () => {
  const { page, context } = await onTablet();
  await fillIn(page);
  const other = await open(context, named[1]);
  assert.equal(await other.page.locator(".options input:checked").count(), 0);
  assert.match(await other.page.locator("#kept").innerText(), /kept on this tablet as you type/);
  await context.close();
});

test("what is pressed stays under the finger while the field before it is read back", async () => {
  const { page, context } = await onTablet();
  const field = page.locator(".field input").last();
  await field.fill("about three, or so I think");
  await page.locator("#close").evaluate((button) => button.scrollIntoView({ block: "center" }));
  const box = await page.locator("#close").boundingBox();
  await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
  await page.mouse.down();
  const at = await page.locator("#close").boundingBox();
  assert.equal(at.y, box.y);
  await Promise.all([page.waitForEvent("download"), page.mouse.up()]);
  await page.waitForFunction(() => /could not be read/.test(document.getElementById("as-read").textContent));
  await context.close();
});

test("leaving asks while something is in no return, and not after", async () => {
  const { page, context } = await onTablet();
  const asked = [];
  page.on("dialog", (dialog) => {
    asked.push(dialog.type());
    dialog.accept();
  });
  await page.reload();
  assert.deepEqual(asked, []);
  await fillIn(page);
  await page.reload();
  assert.deepEqual(asked, ["beforeunload"]);
  await first(page, "choose", "input").first().check();
  await close(page);
  await page.reload();
  assert.deepEqual(asked, ["beforeunload"]);
  await context.close();
});

test("before closing, the blanks are listed with links and every answer as read", async () => {
  const { page, context } = await onTablet();
  const all = (await answersOf(page)).reduce((sum, count) => sum + count, 0);
  assert.match(await page.locator("#still-blank").innerText(), new RegExp(`^${all} of ${all} answers are blank`));
  await fillIn(page);
  assert.match(await page.locator("#still-blank").innerText(), new RegExp(`^${all - 3} of ${all} answers are blank`));
  assert.equal(await page.locator("#blanks a").count(), all - 3);
  for (const link of await page.locator("#blanks a").all()) {
    assert.equal(await page.locator(await link.getAttribute("href")).count(), 1);
    assert.ok((await link.boundingBox()).height >= 44);
  }
  const read = await page.locator("#as-read").innerText();
  assert.match(read, /Read as 0\.81/);
  assert.ok(read.includes(await first(page, "choose", '[data-n="2"] span').innerText()));
  assert.equal(await page.locator("#as-read ol li").count(), await first(page, "order", ".moves li").count());
  await context.close();
});

test("a tablet is cleared only when asked twice, and then keeps nothing", async () => {
  const { page, context } = await onTablet();
  await fillIn(page);
  assert.equal(await page.locator("#clear").isVisible(), false);
  await close(page);
  const kept = () => page.evaluate(() => Object.keys(localStorage).length);
  page.once("dialog", (dialog) => dialog.dismiss());
  await page.click("#clear");
  assert.equal(await kept(), 1);
  page.once("dialog", (dialog) => dialog.accept());
  await page.click("#clear");
  assert.equal(await kept(), 0);
  assert.equal(await page.locator("input:checked").count(), 0);
  assert.equal(await first(page, "numeric", "input").first().inputValue(), "");
  assert.match(await page.locator("#closed").innerText(), /^Cleared/);
  await page.reload();
  assert.equal(await kept(), 0);
  await context.close();
});

test("a blank docket is not closed without a code, and carries the code that was typed", async () => {
  const { page, context } = await onTablet(blanks[0]);
  assert.equal((await data(page)).person, "");
  for (const bad of ["", "-a", "a b", "a.", "ä"]) {
    await page.fill("#your-code", bad);
    await page.click("#close");
    assert.equal(await page.evaluate(() => document.activeElement.id), "your-code", bad);
    assert.match(await page.locator("#your-code-says").innerText(), /letters a to z, digits/);
    assert.match(await page.locator("#closed").innerText(), /^Not closed/);
  }
  await page.fill("#your-code", " B-12 ");
  const { name, text } = await close(page);
  assert.equal(JSON.parse(text).person, "B-12");
  assert.match(name, /^return-.*-b-12\.json$/);
  await page.reload();
  assert.equal(await page.inputValue("#your-code"), "B-12");
  await context.close();
});

test("a tablet that refuses to keep or to save says so, and the return can be copied", async () => {
  const context = await chromium.newContext();
  await context.addInitScript(() => {
    Storage.prototype.setItem = () => { throw new Error("refused"); };
    URL.createObjectURL = () => { throw new Error("refused"); };
  });
  const { page } = await open(context, named[0]);
  assert.match(await page.locator("#kept").innerText(), /keeps nothing/);
  await first(page, "choose", "input").first().check();
  await page.click("#close");
  assert.match(await page.locator("#closed").innerText(), /refused to save a file.*Copy the text/s);
  assert.ok(await page.locator("#return-text").isVisible());
  await page.click("#copy");
  await page.waitForFunction(() => /opied/.test(document.getElementById("copied").textContent));
  assert.equal(JSON.parse(await page.inputValue("#return-text")).gearside, "return");
  await context.close();
});

test("what no return may carry is taken out of it", async () => {
  const { page, context } = await onTablet();
  const field = first(page, "numeric", "input").first();
  await field.evaluate((input) => { input.value = `1\t2\u0007 \ud800 ${"9".repeat(300)}`; });
  const text = JSON.parse((await close(page)).text).answers[await place(page, "numeric")][0];
  assert.ok([...text].length <= 200 && !/\p{Cc}|\p{Cs}/u.test(text), text);
  await context.close();
});

test("everything can be done from the keyboard", async () => {
  const { page, context } = await onTablet();
  const focused = () => page.evaluate(() => document.activeElement.id || document.activeElement.textContent.trim());
  const fields = await page.locator(".field input").count();
  await page.locator(".field input").first().focus();
  for (let at = 0; at < fields; at += 1) {
    await page.keyboard.type("1");
    await page.keyboard.press("Enter");
  }
  assert.equal(await focused(), "close", "Enter moves on to the next blank and at last to the button");
  await first(page, "order", "select").first().focus();
  await page.keyboard.press("Tab");
  await page.keyboard.press("Tab");
  await page.keyboard.press("Enter");
  assert.match(await first(page, "order", "[data-moved]").textContent(), /^Now 2 of/);
  await first(page, "choose", "input").first().focus();
  await page.keyboard.press("Space");
  await page.locator("#close").focus();
  const [download] = await Promise.all([page.waitForEvent("download"), page.keyboard.press("Enter")]);
  const { answers } = JSON.parse(fs.readFileSync(await download.path(), "utf8"));
  assert.equal(answers.flat().filter((text) => text === "1").length, fields + 1);
  assert.match(answers[await place(page, "order")][0], /^2 1 3/);
  const reached = [];
  for (let step = 0; step < 2; step += 1) {
    await page.keyboard.press("Tab");
    reached.push(await focused());
  }
  assert.deepEqual(reached, ["No file was saved?", "clear"]);
  await context.close();
});

test("no docket complains, asks the network for anything, or lets another script run", async () => {
  for (const file of dockets) {
    const { page, context, troubles } = await onTablet(file);
    assert.deepEqual(troubles, [], file);
    await holdToPolicy(page);
    await context.close();
  }
});

test("without script a docket can be read and answered on paper", async () => {
  const { page, context } = await onTablet(blanks[0], { javaScriptEnabled: false });
  assert.match(await page.locator("#first-line").innerText(), /did not run/);
  assert.equal(await page.locator("#close").isVisible(), false);
  assert.equal(await page.locator(".exercise .question:visible").count(), await page.locator(".exercise").count());
  await context.close();
});

test("the Nu HTML checker and axe-core report nothing on dockets and the instructor's pages", async () => {
  holdToHtml([...dockets, ...instructors]);
  await withEach([named[0], blanks[0], ...instructors], async (file) => {
    const { page, context } = await onTablet(file, { bypassCSP: true });
    if (!instructors.includes(file)) {
      await fillIn(page);
      if (file === blanks[0]) await page.fill("#your-code", "b-12");
      await close(page);
      await page.click(".return summary");
    }
    await holdToAxe(page, file);
    await context.close();
  });
});

test("320 pixels and text at twice the size are enough for a docket and the instructor's pages", async () => {
  for (const file of [named[0], blanks[0]]) {
    const { page, context } = await onTablet(file, { viewport: { width: 320, height: 640 } });
    await fillIn(page);
    if (file === blanks[0]) await page.fill("#your-code", "b-12");
    await close(page);
    await holdToSmallScreens(page, file);
    const small = await page.locator("button:visible, .yours input, .options label, summary").evaluateAll((all) => all.map((one) => [one.textContent.trim() || one.id, one.getBoundingClientRect().height]).filter(([, height]) => height < 44));
    assert.deepEqual(small, []);
    await context.close();
  }
  for (const file of instructors) {
    const { page, context } = await onTablet(file);
    await holdToSmallScreens(page, file);
    await context.close();
  }
});

test("cautions stand open at the front and beside each exercise, on screen and on paper", async () => {
  const { page, context } = await onTablet();
  const told = await page.locator("main").evaluate((main) => main.outerHTML.match(/class="caution/g).length);
  assert.ok(told > 20);
  for (const media of ["screen", "print"]) {
    await page.emulateMedia({ media });
    assert.equal(await page.locator(".caution:visible").count(), told, media);
    assert.equal(await page.locator("details .caution").count(), 0);
    const faint = await page.locator(".caution b, .caution a, .caution div").evaluateAll((all) => all.filter((one) => {
      const { fontSize, opacity } = getComputedStyle(one);
      return parseFloat(fontSize) < 10.6 || opacity !== "1" || one.getBoundingClientRect().height < 8;
    }).map((one) => one.textContent));
    assert.deepEqual(faint, [], `${media}: nothing smaller than 8 points`);
  }
  await context.close();
});

test("where a comma is the decimal mark, a docket shows and reads numbers with it", async () => {
  const { page, context, troubles } = await onTablet(commaDockets[0]);
  assert.match(await page.locator(".question").allInnerTexts().then((all) => all.join(" ")), /\d,\d/);
  const part = first(page, "numeric", ".part").first();
  await part.locator("input").fill("0,81");
  await part.locator("input").blur();
  assert.match(await part.locator(".echo").innerText(), /^Read as 0,81/);
  assert.equal(await page.locator("body.paper-letter").count(), 1);
  assert.deepEqual(troubles, []);
  await context.close();
});

test("a docket prints without its controls, its code with every exercise", async () => {
  const { page, context } = await onTablet(blanks[0]);
  for (const format of ["A4", "Letter"]) assert.ok((await printed(page, format)) > 1);
  await page.emulateMedia({ media: "print" });
  assert.equal(await page.locator("button:visible, select:visible, .closing:visible, #your-code:visible").count(), 0);
  const { docket } = await data(page);
  for (const strip of await page.locator(".strip").all()) assert.ok((await strip.innerText()).includes(docket));
  assert.equal(await first(page, "order", ".blank:visible").count(), await first(page, "order", ".moves li").count());
  // The printable height of a Letter page, the smaller one, at 96 pixels an inch.
  await page.setViewportSize({ width: 725, height: 950 });
  const tall = await page.locator(".exercise").evaluateAll((all) => all.map((one) => one.getBoundingClientRect().height).filter((height) => height > 940));
  assert.deepEqual(tall, []);
  await context.close();
});
