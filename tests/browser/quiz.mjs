// The dockets of a rehearsed quiz and their keys, built for the checks.
import fs from "node:fs";
import path from "node:path";
import { gearside, pagesOf, scratch } from "./made.mjs";

/** Of each kind one: moves to put in order, several options to pick, several numbers. */
const wanted = ["load-an-open-blade-deck", "hazards-at-a-film-rewind", "five-readings-of-a-plate"];
const rehearsal = ["--rehearse", "7", "--week", "12", "--minutes", "45", "--blank", "1", "--more-time", "a-7=33%", ...wanted.flatMap((id) => ["--with", id])];
/** A name that is hard to print. */
export const name = 'Ann "Nan" O\'Hara & <b>Lind</b>';

function build() {
  const home = scratch("quiz");
  const programme = path.join(home, "class");
  gearside("new", programme);
  const person = (code, role, called) => gearside("record", "person", code, "--role", role, "--name", called, "--entered-by", "c-1", "--programme", programme);
  person("c-1", "coordinator", "Pat Invented");
  person("a-3", "apprentice", name);
  person("a-7", "apprentice", "Bo Lindqvist");
  const quiz = (output) => gearside("quiz", ...rehearsal, "--programme", programme, "-o", path.join(home, output));
  quiz("point");
  const about = path.join(programme, "curriculum/programme.yaml");
  fs.writeFileSync(about, fs.readFileSync(about, "utf8").replace(/^decimal: .*$/m, 'decimal: ","').replace(/^paper: .*$/m, "paper: letter"));
  quiz("comma");
  return home;
}

const home = build();
const folder = (output, more = "") => pagesOf(path.join(home, output, `rehearsal-week-12${more}`));
export const dockets = folder("point");
/** Where a comma is the decimal mark, for Letter paper. */
export const commaDockets = folder("comma");
/** The instructor's pages. */
export const instructors = folder("point", "-key");
const isBlank = (file) => path.basename(file).startsWith("docket-blank-");
export const named = dockets.filter((file) => !isBlank(file));
export const blanks = dockets.filter(isBlank);
