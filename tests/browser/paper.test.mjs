// What paper shows, measured in the PDF.
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import path from "node:path";
import { after, before, test } from "node:test";
import { page as boardPage } from "./board.mjs";
import { withEach } from "./checks.mjs";
import { blanks, commaDockets, instructors, named } from "./quiz.mjs";
import { browser, open, pages, workbookPages } from "./site.mjs";

let chromium;
before(async () => {
  chromium = await browser();
});
after(async () => chromium.close());

/** Less white than this is left on no side of a sheet, in points: a printer needs about 5 mm. */
const EDGE = 14;

/** Puts a word at the start and the end of each exercise that paper shows too; gives how many exercises there are. */
function probe() {
  const put = (into, word, where) => {
    const mark = document.createElement("div");
    mark.textContent = word;
    mark.style.cssText = "font-size: 1px; line-height: 1px; height: 1px; overflow: visible";
    into.insertAdjacentElement(where, mark);
  };
  const exercises = [...document.querySelectorAll(".exercise")];
  exercises.forEach((one, n) => {
    put(one, `startqz${n}`, "afterbegin");
    put(one, `endqz${n}`, "beforeend");
  });
  return exercises.length;
}

/** The words of a PDF by sheet, with where they stand. */
function sheets(pdf) {
  const told = execFileSync("pdftotext", ["-bbox", "-", "-"], { input: pdf, maxBuffer: 1 << 28 }).toString();
  return told.split("<page ").slice(1).map((sheet) => {
    const [width, height] = sheet.match(/width="([\d.]+)" height="([\d.]+)"/).slice(1).map(Number);
    const words = [...sheet.matchAll(/<word xMin="([-\d.]+)" yMin="([-\d.]+)" xMax="([-\d.]+)" yMax="([-\d.]+)">(.*?)<\/word>/g)].map((word) => ({ text: word[5], at: word.slice(1, 5).map(Number) }));
    return { width, height, words };
  });
}

async function paper(file, format) {
  const context = await chromium.newContext();
  const { page } = await open(context, file);
  const exercises = await page.evaluate(probe);
  await page.emulateMedia({ media: "print" });
  const shown = await page.evaluate(() => {
    // What is there to be heard only.
    document.querySelectorAll(".spoken, .skip, svg desc, svg title, math").forEach((one) => one.remove());
    return document.querySelector("main").innerText;
  });
  const found = sheets(await page.pdf({ format, preferCSSPageSize: false }));
  await context.close();
  return { exercises, shown, found };
}

/** What fits on a sheet is on one, all words lie on the paper, and every word of the page is there. */
function holdToPaper({ exercises, shown, found }, name) {
  const sheetOf = (word) => found.findIndex((sheet) => sheet.words.some((one) => new RegExp(`${word}(?!\\d)`).test(one.text)));
  for (let n = 0; n < exercises; n += 1) {
    const [from, to] = [sheetOf(`startqz${n}`), sheetOf(`endqz${n}`)];
    assert.ok(from >= 0 && to >= from, `${name}: exercise ${n} is on sheets ${from} to ${to}`);
    if (from === to) continue;
    // Taller than a sheet: it begins at the head of one, or right under a section's heading.
    const above = found[from].words.findIndex((word) => word.text.includes(`startqz${n}`));
    assert.ok(to === from + 1 && above < 30, `${name}: exercise ${n} is split between sheets ${from} and ${to}, below ${above} words`);
  }
  for (const [number, sheet] of found.entries()) {
    for (const { text, at: [left, top, right, bottom] } of sheet.words) {
      const inside = left > EDGE && top > EDGE && right < sheet.width - EDGE && bottom < sheet.height - EDGE;
      assert.ok(inside, `${name}, sheet ${number + 1}: ${text} stands at the edge`);
    }
  }
  const text = found.map((sheet) => sheet.words.map((word) => word.text).join("")).join("").normalize("NFKC").toLowerCase();
  const missing = [...new Set(shown.normalize("NFKC").toLowerCase().match(/[\p{L}]{4,}/gu))].filter((word) => !text.includes(word));
  assert.deepEqual(missing, [], name);
}

test("on paper an exercise is split only if it is taller than a sheet, and nothing is cut off", async () => {
  const some = [...workbookPages.filter((_, place) => place % 6 === 0), pages[0], named[0], blanks[0], commaDockets[0], instructors[0], boardPage("person-a-01")];
  await withEach(some, async (file) => {
    for (const format of ["A4", "Letter"]) holdToPaper(await paper(file, format), `${path.basename(file)} on ${format}`);
  });
});
