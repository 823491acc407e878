"""Gives a subset font a name of its own and packs it: rename.py FONT FAMILY OUT.woff2"""

import sys

from fontTools.ttLib import TTFont

source, family, target = sys.argv[1:]
font = TTFont(source, recalcTimestamp=False)
style = font["name"].getDebugName(2) or "Regular"
plain = family.replace(" ", "")
for number, text in {1: family, 2: style, 4: f"{family} {style}", 6: f"{plain}-{style.replace(' ', '')}"}.items():
    font["name"].setName(text, number, 3, 1, 0x409)
font["name"].names = [n for n in font["name"].names if n.platformID == 3]
if "CFF " in font:
    cff = font["CFF "].cff
    cff.fontNames = [f"{plain}-{style}"]
    top = cff.topDictIndex[0]
    top.FamilyName, top.FullName = family, f"{family} {style}"
font.flavor = "woff2"
font.save(target)
