// The built site and a real browser, for all checks.
import fs from "node:fs";
import path from "node:path";
import { browser, open } from "./chromium.mjs";
import { pagesOf } from "./made.mjs";

export { browser, open };

export const site = path.resolve(process.env.GEARSIDE_SITE);
export const keys = path.resolve(process.env.GEARSIDE_KEYS || `${site}-keys`);
export const gallery = path.resolve(process.env.GEARSIDE_GALLERY || `${site}-gallery`);
export const here = path.dirname(new URL(import.meta.url).pathname);
export const vectors = (name) => JSON.parse(fs.readFileSync(path.join(here, "../vectors", name), "utf8"));

export const pages = pagesOf(site);
export const keyPages = pagesOf(keys);
export const galleryPages = pagesOf(gallery);
export const workbookPages = pages.filter((file) => /"numeric"/.test(fs.readFileSync(file, "utf8")));

/** The exercises of a section with what the page's data says of the pull shown. */
export function exercises(page, mode) {
  return page.evaluate((wanted) => [...document.querySelectorAll(`.exercise[data-mode="${wanted}"]`)].map((section) => {
    const data = JSON.parse(document.getElementById(section.dataset.data).textContent);
    const first = Number(section.dataset.pulls.split("-")[0]);
    return { id: section.id, kind: section.dataset.kind, pick: section.dataset.pick, first, data, pull: data.pulls[first] };
  }), mode);
}

/** The first exercise of a section, on any workbook page, that is wanted. */
export async function findExercise(context, mode, wanted) {
  for (const file of workbookPages) {
    const opened = await open(context, file);
    const found = (await exercises(opened.page, mode)).find(wanted);
    if (found) return { ...opened, one: found, at: (more) => opened.page.locator(`#${found.id} ${more}`) };
    await opened.page.close();
  }
  throw new Error(`no page has such an exercise (${mode})`);
}

/** The middle of an interval, as text that is read back to the same number. */
export const middle = ([low, high]) => String((low + high) / 2);
