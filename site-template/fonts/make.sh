#!/bin/sh
# Makes the three text faces and the mathematics face from Debian's packages
# fonts-sil-charis and fonts-stix. Wants fonttools and brotli (from PyPI).
# The originals reserve their names, so the subsets carry names of their own.
set -eu
here=$(cd "$(dirname "$0")" && pwd)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
cd "$work"
apt-get download -qq fonts-sil-charis fonts-stix
for package in *.deb; do dpkg-deb -x "$package" .; done
charis=usr/share/fonts/truetype/charis
stix=usr/share/fonts/opentype/stix-word

latin=20-7E,A0-FF,2013,2014,2018-201A,201C-201E,2022,2026,2032,2033,2044,2190-2193,2212,2248,2260,2264,2265,3BC,2009,202F
slanted=20-7E,A0,B0-B3,B5,B7,BC-BE,C4-C6,D6-D8,DC,DF-FC,2013,2014,2019,201C,201D,2026,2032,2033,2212
marks=100-17F,2070,2074-2079,207A,207B,2080-2089,2153,2154,215B-215E,394,3A9,3C0,221A,221E
subset() {
  pyftsubset "$1" --unicodes="$2" --layout-features="$3" --no-hinting --desubroutinize \
    --name-IDs=0,1,2,14 --drop-tables+=Silf,Gloc,Glat,Feat,Sill,DSIG,FFTM --output-file="$4.otf"
  python3 "$here/rename.py" "$4.otf" "$5" "$here/$4.woff2"
}
subset "$charis/CharisSIL-Regular.ttf" "$latin,$marks" kern,liga text-regular 'Gearside Text'
subset "$charis/CharisSIL-Italic.ttf" "$slanted" kern,liga text-italic 'Gearside Text'
subset "$charis/CharisSIL-Bold.ttf" "$slanted" kern,liga text-bold 'Gearside Text'

digits=20-7E,A0,B0-B3,B1,B5,B7,BC-BE,D7,F7,2009,2013,2026,2032,2033,2044,2061,2062
greek=393,394,398,39B,3A3,3A6,3A9,3B1-3C9,3D5
operators=2192,2202,2206,2211,2212,2215,221A,2248,2260,2264,2265,22C5,230A,230B,2308,2309
italics=210E,1D434-1D467,1D6FC-1D71B
subset "$stix/STIXMath-Regular.otf" "$digits,$greek,$operators,$italics" ssty,math,kern mathematics 'Gearside Mathematics'
