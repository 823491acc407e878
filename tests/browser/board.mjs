// The coordinator's pages of the demonstration programme, built for the checks.
import path from "node:path";
import { gearside, pagesOf, scratch } from "./made.mjs";

function build() {
  const home = scratch("board");
  const [programme, out] = [path.join(home, "demo"), path.join(home, "board")];
  gearside("new", programme, "--demo");
  gearside("board", "--programme", programme, "-o", out);
  return out;
}

/** The folder of the pages: one that is built already, or one that is built now. */
export const board = process.env.GEARSIDE_BOARD ? path.resolve(process.env.GEARSIDE_BOARD) : build();
export const pages = pagesOf(board);
export const page = (name) => path.join(board, `${name}.html`);
export const records = pages.filter((file) => path.basename(file).startsWith("person-"));
export const stages = pages.filter((file) => path.basename(file).startsWith("stage-"));
