// What every sort of page is held to: the checkers, small screens, the policy, paper.
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import fs from "node:fs";
import path from "node:path";
import { here, open } from "./site.mjs";

const tags = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"];
const axeSource = fs.readFileSync(path.join(here, "node_modules/axe-core/axe.min.js"), "utf8");

/** A page in a context of its own. */
export async function show(chromium, file, settings = {}) {
  const context = await chromium.newContext({ viewport: { width: 820, height: 1100 }, acceptDownloads: true, ...settings });
  return { ...(await open(context, file)), context };
}

/** The Nu HTML checker reports nothing. */
export function holdToHtml(files) {
  const jar = path.join(here, "node_modules/vnu-jar/build/dist/vnu.jar");
  const given = ["-jar", jar, "--format", "json", "--exit-zero-always", "--stdout", ...files];
  const report = execFileSync("java", given, { maxBuffer: 1 << 28 }).toString();
  // It works no hashes out; that the policy lets our script run and no other is shown in Chromium.
  const messages = JSON.parse(report).messages.filter((one) => !/violates Content Security Policy/.test(one.message));
  assert.deepEqual([...new Set(messages.map((one) => `${path.basename(one.url || "")}: ${one.message}`))], []);
}

async function holdTo(page, name, runOnly) {
  // Only what is wrong is looked up in detail, which takes a third of the time.
  const found = await page.evaluate((only) => axe.run(document, { runOnly: only, resultTypes: ["violations"] }), runOnly);
  assert.deepEqual(found.violations.map((one) => `${one.id}: ${one.nodes[0].target}`), [], name);
}

/** axe-core reports nothing of a page as it stands, in the light scheme and in the dark; its context must bypass the policy. */
export async function holdToAxe(page, name) {
  await page.addScriptTag({ content: axeSource });
  await page.emulateMedia({ colorScheme: "light" });
  await holdTo(page, name, { type: "tag", values: tags });
  // Contrast alone differs.
  await page.emulateMedia({ colorScheme: "dark" });
  await holdTo(page, `${name} in the dark`, { type: "rule", values: ["color-contrast"] });
}

/** Does something with every file, two at a time: there are two cores. */
export async function withEach(files, work) {
  const left = [...files];
  const worker = async () => {
    for (let file = left.shift(); file !== undefined; file = left.shift()) await work(file);
  };
  await Promise.all([worker(), worker()]);
}

/** 320 pixels are enough, and so are 640 with text at twice the size. */
export async function holdToSmallScreens(page, name) {
  const wide = () => page.evaluate(() => document.documentElement.scrollWidth);
  await page.setViewportSize({ width: 320, height: 640 });
  assert.ok((await wide()) <= 320, `${name} is ${await wide()} pixels wide`);
  await page.setViewportSize({ width: 640, height: 800 });
  await page.evaluate(() => document.styleSheets[0].insertRule("html { font-size: 34px !important }", document.styleSheets[0].cssRules.length));
  assert.ok((await wide()) <= 640, `${name} with large text is ${await wide()} pixels wide`);
}

/** No script runs that did not come with the page. */
export async function holdToPolicy(page) {
  await page.evaluate(() => {
    const script = document.createElement("script");
    script.textContent = "window.intruder = true";
    document.body.append(script);
  });
  assert.equal(await page.evaluate(() => window.intruder), undefined);
}

/** How many pages of paper it takes. */
export async function printed(page, format) {
  const pdf = await page.pdf({ format });
  assert.ok(pdf.length > 20_000);
  return pdf.toString("latin1").match(/\/Type\s*\/Page[^s]/g).length;
}
