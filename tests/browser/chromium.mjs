// A real browser, and pages over file://.
import { chromium } from "playwright-core";

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
