// What the checkers say of the pages, and how they behave on small screens and on paper.
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import fs from "node:fs";
import path from "node:path";
import { after, before, test } from "node:test";
import { browser, here, keyPages, open, pages, site, workbookPages } from "./site.mjs";

let chromium;
before(async () => {
  chromium = await browser();
});
after(async () => chromium.close());

const all = [...pages, ...keyPages];

test("the Nu HTML checker reports nothing", () => {
  const jar = path.join(here, "node_modules/vnu-jar/build/dist/vnu.jar");
  let report;
  try {
    report = execFileSync("java", ["-jar", jar, "--format", "json", "--exit-zero-always", "--stdout", ...all], { maxBuffer: 1 << 28 }).toString();
  } catch (error) {
    report = String(error.stdout);
  }
  // It works no hashes out; that the policy lets our script run and no other is shown below, in Chromium.
  const messages = JSON.parse(report).messages.filter((one) => !/violates Content Security Policy/.test(one.message));
  assert.deepEqual([...new Set(messages.map((one) => `${path.basename(one.url || "")}: ${one.message}`))], []);
});

test("axe-core reports nothing", async () => {
  const source = fs.readFileSync(path.join(here, "node_modules/axe-core/axe.min.js"), "utf8");
  const tags = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"];
  for (const scheme of ["light", "dark"]) {
    const context = await chromium.newContext({ bypassCSP: true, colorScheme: scheme });
    for (const file of all) {
      const { page } = await open(context, file);
      await page.addScriptTag({ content: source });
      const found = await page.evaluate((values) => axe.run(document, { runOnly: { type: "tag", values } }), tags);
      assert.deepEqual(found.violations.map((one) => `${one.id}: ${one.nodes[0].target}`), [], `${file} ${scheme}`);
      await page.close();
    }
    await context.close();
  }
});

test("nothing runs that did not come with the page", async () => {
  const context = await chromium.newContext();
  const { page } = await open(context, workbookPages[0]);
  await page.evaluate(() => {
    const script = document.createElement("script");
    script.textContent = "window.intruder = true";
    document.body.append(script);
  });
  assert.equal(await page.evaluate(() => window.intruder), undefined);
  await context.close();
});

test("320 pixels are enough, and pages stay under a megabyte", async () => {
  const context = await chromium.newContext({ viewport: { width: 320, height: 640 } });
  for (const file of all) {
    assert.ok(fs.statSync(file).size < 1_000_000, file);
    const { page } = await open(context, file);
    const wide = await page.evaluate(() => document.documentElement.scrollWidth);
    assert.ok(wide <= 320, `${file} is ${wide} pixels wide`);
    await page.close();
  }
  await context.close();
});

test("without script the working and the answers can still be read", async () => {
  const context = await chromium.newContext({ javaScriptEnabled: false });
  const page = await context.newPage();
  await page.goto(`file://${workbookPages[0]}`);
  assert.match(await page.locator("#first-line").innerText(), /Open me in the browser, not the preview/);
  assert.ok(await page.locator("details.steps summary").first().isVisible());
  await context.close();
});

test("a page prints", async () => {
  const context = await chromium.newContext();
  const { page } = await open(context, workbookPages[0]);
  for (const format of ["A4", "Letter"]) {
    const pdf = await page.pdf({ format });
    assert.ok(pdf.length > 20_000);
  }
  await page.emulateMedia({ media: "print" });
  assert.equal(await page.locator("button:visible").count(), 0);
  await context.close();
});

test("every link leads to a page that is there", async () => {
  for (const file of pages) {
    for (const [, href] of fs.readFileSync(file, "utf8").matchAll(/<a [^>]*href="([^"#]+)"/g)) {
      assert.ok(fs.existsSync(path.join(site, href)), `${path.basename(file)}: ${href}`);
    }
  }
});
