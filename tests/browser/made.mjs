// What the checks have the program make: in folders of their own, which go when they end.
import { execFileSync } from "node:child_process";
import fs from "node:fs";
import os from "node:os";
import path from "node:path";

const program = path.resolve(path.dirname(new URL(import.meta.url).pathname), "../../target/release/gearside");

/** A folder that goes when the checks end. */
export function scratch(name) {
  const home = fs.mkdtempSync(path.join(os.tmpdir(), `gearside-${name}-`));
  process.on("exit", () => fs.rmSync(home, { recursive: true, force: true }));
  return home;
}

/** Runs the program; what it says of faults is shown. */
export const gearside = (...given) => execFileSync(program, [...given, "--quiet"], { stdio: ["ignore", "ignore", "inherit"] });

/** The pages in a folder. */
export const pagesOf = (folder) => fs.readdirSync(folder).filter((name) => name.endsWith(".html")).sort().map((name) => path.join(folder, name));
