// How the pages behave on small screens, without script and on paper.
import assert from "node:assert/strict";
import fs from "node:fs";
import path from "node:path";
import { after, before, test } from "node:test";
import { holdToPolicy, printed, show, withEach } from "./checks.mjs";
import { browser, galleryPages, keyPages, open, pages, site, workbookPages } from "./site.mjs";

let chromium;
before(async () => {
  chromium = await browser();
});
after(async () => chromium.close());

const all = [...pages, ...keyPages, ...galleryPages];

test("nothing runs that did not come with the page", async () => {
  const { page, context } = await show(chromium, workbookPages[0]);
  await holdToPolicy(page);
  await context.close();
});

test("320 pixels are enough, and pages stay under a megabyte", async () => {
  const context = await chromium.newContext({ viewport: { width: 320, height: 640 } });
  await withEach(all, async (file) => {
    assert.ok(fs.statSync(file).size < 1_000_000, file);
    const { page } = await open(context, file);
    const wide = await page.evaluate(() => document.documentElement.scrollWidth);
    assert.ok(wide <= 320, `${file} is ${wide} pixels wide`);
    await page.close();
  });
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
  for (const format of ["A4", "Letter"]) assert.ok((await printed(page, format)) > 1);
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
