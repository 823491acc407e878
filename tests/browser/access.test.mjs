// What the checkers say of every page of workbook, keys and gallery. Takes longest, so its name comes first.
import { after, before, test } from "node:test";
import { holdToAxe, holdToHtml, withEach } from "./checks.mjs";
import { browser, galleryPages, keyPages, open, pages } from "./site.mjs";

let chromium;
before(async () => {
  chromium = await browser();
});
after(async () => chromium.close());

const all = [...pages, ...keyPages, ...galleryPages];

test("the Nu HTML checker reports nothing", () => holdToHtml(all));

test("axe-core reports nothing", async () => {
  await withEach(all, async (file) => {
    const context = await chromium.newContext({ bypassCSP: true });
    const { page } = await open(context, file);
    await holdToAxe(page, file);
    await context.close();
  });
});
