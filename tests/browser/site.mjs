// The built site and a real browser, for all checks.
import fs from "node:fs";
import path from "node:path";
import { chromium } from "playwright-core";

export const site = path.resolve(process.env.GEARSIDE_SITE);
export const keys = path.resolve(process.env.GEARSIDE_KEYS || `${site}-keys`);
export const here = path.dirname(new URL(import.meta.url).pathname);
export const vectors = (name) => JSON.parse(fs.readFileSync(path.join(here, "../vectors", name), "utf8"));

const pagesOf = (folder) => fs.readdirSync(folder).filter((name) => name.endsWith(".html")).map((name) => path.join(folder, name));
export const pages = pagesOf(site);
export const keyPages = pagesOf(keys);
export const workbookPages = pages.filter((file) => /"numeric"/.test(fs.readFileSync(file, "utf8")));

export async function browser() {
  return chromium.launch({
    executablePath: "/usr/bin/chromium",
    args: ["--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync"],
  });
}

/** A page over file://, with everything it complains of or asks the network for. */
export async function open(context, file) {
  const page = await context.newPage();
  const troubles = [];
  page.on("console", (message) => ["error", "warning"].includes(message.type()) && troubles.push(message.text()));
  page.on("pageerror", (error) => troubles.push(error.message));
  page.on("request", (request) => !/^(file|data):/.test(request.url()) && troubles.push(`asked for ${request.url()}`));
  await page.goto(`file://${file}`);
  return { page, troubles };
}

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
