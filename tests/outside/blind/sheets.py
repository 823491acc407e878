"""Makes contact sheets of print samples for someone to name by eye, and the key in a folder of its own.

usage: sheets.py CLOSE_UPS SHEETS KEY [--seed N] [--each N] [--strength N] [--width PX] [--on-a-sheet N] [--dark]

CLOSE_UPS is the built example `close_ups`. SHEETS gets sheet-01.png and so on, the pictures numbered and nothing else
said of them; KEY gets key.csv with number, state and strength. Whoever names the pictures sees SHEETS and states.md
alone. Needs Chromium.
"""

import argparse
import csv
import json
import pathlib
import shutil
import subprocess
import tempfile

ROOT = pathlib.Path(__file__).resolve().parents[3]
PAGE = """<!doctype html><html lang="en"><meta charset="utf-8"><style>{style}</style>
<style>html {{ color-scheme: {scheme}; }} :root {{ {colours} }}
body {{ margin: 0; padding: 12px; background: var(--card); color: var(--ink); max-width: none; display: grid;
grid-template-columns: repeat({columns}, {width}px); gap: 10px 24px; align-content: start; }}
figure {{ margin: 0; }} figcaption {{ font: 700 18px sans-serif; }} .figure {{ max-width: none; }}</style>
<body>{figures}</body></html>"""
COLOURS = {
    "light": "--card: #fff; --ink: #000; --paper: #fff;",
    "dark": "--card: #1c1f22; --ink: #e9ebee; --paper: #16181a;",
}


def arguments():
    """What was asked for."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("close_ups")
    parser.add_argument("sheets", type=pathlib.Path)
    parser.add_argument("key", type=pathlib.Path)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--each", type=int, default=4)
    parser.add_argument("--strength", type=float)
    parser.add_argument("--width", type=int, default=260)
    parser.add_argument("--on-a-sheet", type=int, default=12)
    parser.add_argument("--dark", action="store_true")
    return parser.parse_args()


def photograph(browser, page, width, height, to):
    """Has the browser draw a page as a PNG."""
    with tempfile.TemporaryDirectory() as folder:
        source = pathlib.Path(folder) / "sheet.html"
        source.write_text(page, encoding="utf-8")
        subprocess.run(
            [browser, "--headless", "--no-sandbox", "--disable-gpu", "--hide-scrollbars",
             f"--user-data-dir={folder}/profile", f"--window-size={width},{height}",
             f"--screenshot={to}", source.as_uri()],
            check=True, capture_output=True, timeout=120,
        )


def main():
    """Pulls, photographs, and writes the key."""
    asked = arguments()
    browser = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
    if not browser:
        raise SystemExit("no Chromium found; tests/browser/install.sh installs it")
    if asked.sheets.resolve() == asked.key.resolve():
        raise SystemExit("the key goes to a folder of its own")
    command = [asked.close_ups, str(asked.seed), str(asked.each)]
    if asked.strength is not None:
        command.append(str(asked.strength))
    printed = subprocess.run(command, check=True, capture_output=True, text=True).stdout
    pulls = [json.loads(line) for line in printed.splitlines()]
    for folder in (asked.sheets, asked.key):
        folder.mkdir(parents=True, exist_ok=True)
    for old in asked.sheets.glob("sheet-*.png"):
        old.unlink()
    style = (ROOT / "site-template" / "style.css").read_text(encoding="utf-8")
    columns = min(4, max(1, 1300 // (asked.width + 24)))
    scheme = "dark" if asked.dark else "light"
    for sheet, start in enumerate(range(0, len(pulls), asked.on_a_sheet), 1):
        some = pulls[start:start + asked.on_a_sheet]
        figures = "".join(
            f"<figure><figcaption>{number}</figcaption>{pull['svg']}</figure>"
            for number, pull in enumerate(some, start + 1)
        )
        page = PAGE.format(style=style, scheme=scheme, colours=COLOURS[scheme], columns=columns, width=asked.width,
                           figures=figures)
        rows = -(-len(some) // columns)
        photograph(browser, page, columns * (asked.width + 24) + 4, rows * (asked.width + 34) + 24,
                   (asked.sheets / f"sheet-{sheet:02}.png").resolve())
    with (asked.key / "key.csv").open("w", newline="", encoding="utf-8") as file:
        rows = csv.writer(file)
        rows.writerow(["number", "state", "strength"])
        rows.writerows([number, pull["state"], f"{pull['strength']:.2f}"] for number, pull in enumerate(pulls, 1))
    print(f"{len(pulls)} pictures on {-(-len(pulls) // asked.on_a_sheet)} sheets")


if __name__ == "__main__":
    main()
