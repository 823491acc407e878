// The coordinator's pages of the demonstration programme, built for the checks.
import { execFileSync } from "node:child_process";
import fs from "node:fs";
import os from "node:os";
import path from "node:path";

const here = path.dirname(new URL(import.meta.url).pathname);

function build() {
  const gearside = path.resolve(here, "../../target/release/gearside");
  const home = fs.mkdtempSync(path.join(os.tmpdir(), "gearside-board-"));
  process.on("exit", () => fs.rmSync(home, { recursive: true, force: true }));
  const [programme, out] = [path.join(home, "demo"), path.join(home, "board")];
  execFileSync(gearside, ["new", programme, "--demo", "--quiet"], { stdio: ["ignore", "ignore", "inherit"] });
  execFileSync(gearside, ["board", "--programme", programme, "-o", out, "--quiet"], { stdio: ["ignore", "ignore", "inherit"] });
  return out;
}

/** The folder of the pages: one that is built already, or one that is built now. */
export const board = process.env.GEARSIDE_BOARD ? path.resolve(process.env.GEARSIDE_BOARD) : build();
export const pages = fs.readdirSync(board).filter((name) => name.endsWith(".html")).map((name) => path.join(board, name));
export const page = (name) => path.join(board, `${name}.html`);
export const records = pages.filter((file) => path.basename(file).startsWith("person-"));
export const stages = pages.filter((file) => path.basename(file).startsWith("stage-"));
