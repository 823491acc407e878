// What an apprentice does on a workbook page.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { browser, exercises, findExercise, middle, open, pages, vectors } from "./site.mjs";

let chromium;
let context;
before(async () => {
  chromium = await browser();
  context = await chromium.newContext({ viewport: { width: 1280, height: 900 } });
});
after(async () => chromium.close());

const find = (mode, wanted, inside = context) => findExercise(inside, mode, wanted);

const numeric = (one) => one.kind === "numeric";
const single = (one) => numeric(one) && one.pull.parts.length === 1;
const verdict = (found, part = 0) => found.at(`.part:nth-of-type(${part + 1}) .verdict`).innerText();

async function answer(found, text, part = 0) {
  const input = found.at(`#${found.one.id}-${part}`);
  await input.fill(text);
  await input.press("Enter");
  return verdict(found, part);
}

test("a right answer is right, and says how it was read", async () => {
  const found = await find("own", single);
  const said = await answer(found, middle(found.one.pull.parts[0].right));
  assert.match(said, /Right\./);
  assert.match(said, /Read as/);
  assert.equal(await found.page.locator(`.row [data-for="${found.one.id}"]`).getAttribute("data-state"), "right");
  assert.deepEqual(found.troubles, []);
});

test("the same in another unit is right", async () => {
  const found = await find("own", (one) => single(one) && one.data.parts[0].unit === "µm");
  const [low, high] = found.one.pull.parts[0].right;
  const said = await answer(found, `${(low + high) / 2 / 25.4} mil`);
  assert.match(said, /Right\./);
  assert.match(said, /mil, that is/);
});

test("a decimal comma is understood", async () => {
  const found = await find("own", (one) => single(one) && one.pull.parts[0].right[1] < 100);
  assert.match(await answer(found, middle(found.one.pull.parts[0].right).replace(".", ",")), /Right\./);
});

test("a wrong turn shows its reason", async () => {
  const found = await find("own", (one) => single(one) && one.pull.parts[0].turns.length > 0);
  const turn = found.one.pull.parts[0].turns[0];
  const reason = await found.at(`[data-reason="${turn.because[0]}"]`).textContent();
  const said = await answer(found, String(turn.at));
  assert.match(said, /A wrong turn\./);
  assert.ok(said.includes(reason.trim().slice(0, 25)), `${said} / ${reason}`);
  assert.equal(await found.page.locator(`.row [data-for="${found.one.id}"]`).getAttribute("data-state"), "turn");
});

test("a wrong kind of unit and garbage are told apart from a wrong number", async () => {
  const found = await find("own", (one) => single(one) && one.data.parts[0].unit === "µm");
  assert.match(await answer(found, "3 kg"), /wrong kind of unit/i);
  assert.match(await answer(found, "about <b>three</b>"), /Not read|not known/i);
  assert.equal(await found.at(".verdict b b").count(), 0);
  assert.match(await answer(found, "3 furlongs"), /unit not known/i);
  assert.match(await answer(found, "  "), /Nothing typed/);
  assert.match(await answer(found, "123456.7"), /Wrong\./);
});

test("the page's own keys change the sign and put a unit behind the number", async () => {
  const found = await find("own", (one) => single(one) && one.data.parts[0].unit === "µm");
  const input = found.at(`#${found.one.id}-0`);
  await input.fill("1.5");
  await found.at('.keys [data-types="±"]').first().click();
  assert.equal(await input.inputValue(), "-1.5");
  await found.at('.keys [data-types="±"]').first().click();
  await found.at('.keys [data-unit="mil"]').first().click();
  assert.equal(await input.inputValue(), "1.5 mil");
  await found.at('.keys [data-unit="µm"]').first().click();
  assert.equal(await input.inputValue(), "1.5 µm");
});

test("fresh numbers come only after a verdict, and are other numbers", async () => {
  const found = await find("own", single);
  const fresh = found.at(".fresh");
  assert.equal(await fresh.isVisible(), false);
  const asked = await found.at(".question").innerText();
  await answer(found, "0.00001");
  assert.equal(await fresh.isVisible(), true);
  await fresh.click();
  assert.notEqual(await found.at(".question").innerText(), asked);
  assert.equal(await found.at(`#${found.one.id}-0`).inputValue(), "");
  assert.match(await answer(found, middle(found.one.data.pulls[found.one.first + 1].parts[0].right)), /Right\./);
});

test("one more line shows one line of the working for each press", async () => {
  const found = await find("own", single);
  const shown = () => found.at(".working li:visible").count();
  assert.equal(await shown(), 0);
  await found.at(".more").click();
  assert.equal(await shown(), 1);
  assert.ok(await found.at(".working li:visible math").first().isVisible());
});

test("parts are asked one at a time and go on from the true value", async () => {
  const found = await find("own", (one) => numeric(one) && one.pull.parts.length > 1);
  const second = found.at(`#${found.one.id}-1`);
  assert.equal(await second.isVisible(), false);
  await answer(found, middle(found.one.pull.parts[0].right));
  assert.equal(await second.isVisible(), true);
  assert.match(await found.at(".go-on").first().innerText(), /Go on from the true value/);
  await answer(found, middle(found.one.pull.parts[1].right), 1);
  assert.match(await found.at(".part .verdict").nth(1).innerText(), /Right\./);
});

test("a reload forgets everything without a code, and brings it back with one", async () => {
  const own = await chromium.newContext();
  const found = await find("own", single, own);
  const input = () => found.page.locator(`#${found.one.id}-0`);
  await answer(found, middle(found.one.pull.parts[0].right));
  await found.page.reload();
  assert.equal(await input().inputValue(), "");
  await found.page.fill("#code", "ab12");
  await found.page.click("#remember");
  await answer(found, middle(found.one.pull.parts[0].right));
  await found.page.reload();
  assert.notEqual(await input().inputValue(), "");
  assert.match(await verdict(found), /Right\./);
  found.page.on("dialog", (dialog) => dialog.accept());
  await found.page.click("#clear");
  assert.equal(await input().inputValue(), "");
  assert.equal(await found.page.evaluate(() => Object.keys(localStorage).length), 0);
  await found.page.reload();
  assert.equal(await input().inputValue(), "");
  assert.deepEqual(found.troubles, []);
  await own.close();
});

test("moves are put in order with buttons, and any valid order is right", async () => {
  const found = await find("own", (one) => one.kind === "order");
  for (const [place, move] of found.one.pull.valid.entries()) {
    await found.at(`[data-n="${move}"] select`).selectOption({ value: String(place) });
  }
  await found.at(".press").click();
  assert.match(await found.at(".verdict").innerText(), /Right\./);
  const last = found.one.pull.valid.at(-1);
  for (let place = found.one.pull.valid.length - 1; place > 0; place -= 1) await found.at(`[data-n="${last}"] [data-by="-1"]`).click();
  await found.at(".press").click();
  assert.match(await found.at(".verdict").innerText(), /comes before/);
});

test("a choice gives the reason for what was picked", async () => {
  const found = await find("own", (one) => one.kind === "choose" && one.pick === "one");
  const right = found.one.pull.show.find((number) => found.one.data.options[number].right);
  const wrong = found.one.pull.show.find((number) => !found.one.data.options[number].right);
  await found.at(`input[value="${wrong}"]`).check();
  await found.at(".press").click();
  assert.match(await found.at(".verdict").innerText(), /Wrong\./);
  await found.at(`input[value="${right}"]`).check();
  await found.at(".press").click();
  assert.match(await found.at(".verdict").innerText(), /Right\./);
});

test("the self-quiz is marked together and scored", async () => {
  const found = await find("quiz", single);
  const all = await exercises(found.page, "quiz");
  await found.at(`#${found.one.id}-0`).fill(middle(found.one.pull.parts[0].right));
  assert.equal(await found.at(".verdict").first().innerText(), "");
  await found.page.click("#mark-quiz");
  assert.match(await found.page.locator("#score").innerText(), new RegExp(`^1 of ${all.length} right`));
  assert.match(await verdict(found), /Right\./);
});

test("everything can be done from the keyboard", async () => {
  const found = await find("own", single);
  await found.at(`#${found.one.id}-0`).focus();
  await found.page.keyboard.type("0.00001");
  await found.page.keyboard.press("Enter");
  assert.match(await verdict(found), /Wrong|This looks like/);
  const reached = new Set();
  for (let step = 0; step < 14; step += 1) {
    await found.page.keyboard.press("Tab");
    reached.add(await found.page.evaluate(() => document.activeElement.className + document.activeElement.textContent.trim()));
  }
  const names = [...reached].join("|");
  for (const name of ["Mark my answer", "One more line", "Fresh numbers"]) assert.ok(names.includes(name), `${name} in ${names}`);
});

test("typed answers are read in the page as the vectors say", async () => {
  const { page } = await find("own", numeric);
  const wrong = await page.evaluate((rows) => {
    const table = JSON.parse(document.getElementById("units").textContent);
    const faults = [];
    for (const row of rows) {
      Reading.load({ ...table, decimal: row.decimal });
      const read = Reading.read(row.typed, row.asked);
      const near = row.near === undefined || (read.near || "") === row.near;
      const value = row.value === undefined || Math.abs(read.value - row.value) <= 1e-9 * Math.abs(row.value);
      if (read.outcome !== row.outcome || !value || !near || (row.echo !== undefined && read.echo !== row.echo)) faults.push({ row, read });
    }
    return faults;
  }, vectors("readings.json"));
  assert.deepEqual(wrong, []);
});

test("numbers, orders and rounds are marked in the page as the vectors say", async () => {
  const { page } = await find("own", numeric);
  const wrong = await page.evaluate(({ marks, orders, rounds }) => {
    const table = JSON.parse(document.getElementById("units").textContent);
    const faults = [];
    for (const row of marks) {
      Reading.load({ ...table, decimal: row.decimal });
      const said = Marking.numeric(Reading.read(row.typed, row.asked), row.part);
      const because = row.because === undefined || JSON.stringify(said.because) === JSON.stringify(row.because);
      if (said.verdict !== row.verdict || !because || (row.says !== undefined && said.says !== row.says)) faults.push({ row, said });
    }
    for (const row of orders) {
      const said = Marking.order(row.given, row.pull);
      const same = Math.abs(said.mark - row.mark) < 1e-12 && JSON.stringify(said.broken) === JSON.stringify(row.broken) && said.hold === row.hold;
      if (!same) faults.push({ row, said });
    }
    for (const row of rounds) {
      const said = Marking.rounds(row.given, row.start, row.table);
      const same = Math.abs(said.mark - row.mark) < 1e-12 && JSON.stringify(said.path) === JSON.stringify(row.path) && said.right === row.right && said.hold === row.hold;
      if (!same) faults.push({ row, said });
    }
    return faults;
  }, { marks: vectors("marks.json"), orders: vectors("orders.json"), rounds: vectors("rounds.json") });
  assert.deepEqual(wrong, []);
});

test("rounds are played with the mouse: each move shows its sample, and the fewest moves are right", async () => {
  const { page, one, at } = await find("own", (found) => found.kind === "rounds");
  const fewest = one.data.fewest[one.pull.start - 1];
  let sample = one.pull.start;
  assert.ok(fewest.length > 0);
  for (const move of fewest) {
    await at(`[data-n="${move}"] [data-does]`).click();
    sample = one.data.leads[sample - 1][move];
    assert.equal(await at(".sample:visible").count(), 1);
    assert.equal(await at(`.sample:nth-of-type(${sample})`).isVisible(), true, `sample ${sample}`);
    assert.match(await at("[data-moved]").textContent(), new RegExp(`Now sample ${sample}:`));
  }
  await at(".press").click();
  assert.match(await at(".verdict").innerText(), /^Right/);
  await page.close();
});

test("rounds are played with keys: a move that is not safe is told, and the first sample comes back", async () => {
  const { page, one, at } = await find("own", (found) => found.kind === "rounds");
  const unsafe = one.data.unsafe.findIndex(Boolean);
  await at(`[data-n="${unsafe}"] [data-does]`).focus();
  for (let more = 0; more < one.data.most + 2; more += 1) await page.keyboard.press("Space");
  assert.equal((await at("[data-done]").textContent()).split(" ").length, one.data.most, "no more moves than may be done");
  await at(".press").focus();
  await page.keyboard.press("Enter");
  assert.match(await at(".verdict").innerText(), /A move was not safe\./);
  await at("[data-again]").focus();
  await page.keyboard.press("Space");
  assert.equal(await at("[data-done]").textContent(), "none");
  assert.equal(await at(`.sample:nth-of-type(${one.pull.start})`).isVisible(), true);
  await page.close();
});

test("no page complains or asks the network for anything", async () => {
  for (const file of pages) {
    const { page, troubles } = await open(context, file);
    assert.deepEqual(troubles, [], file);
    await page.close();
  }
});
