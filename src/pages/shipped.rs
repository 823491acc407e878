//! The templates, styles, scripts and fonts built into the program.

/// Name and bytes of each file of `site-template/`.
macro_rules! shipped {
    ($($path:literal),* $(,)?) => { &[$(($path, include_bytes!(concat!("../../site-template/", $path)))),*] };
}

/// All of them. A test holds this list to the folder.
pub(super) static FILES: &[(&str, &[u8])] = shipped![
    "base.html",
    "board-base.html",
    "board-stage.html",
    "board.html",
    "exercise.html",
    "front.html",
    "key.html",
    "marks.html",
    "programme.html",
    "record.html",
    "sheet.html",
    "stage.html",
    "standing.html",
    "tablet.html",
    "target.html",
    "web-marks.html",
    "workbook.html",
    "board.css",
    "style.css",
    "board.js",
    "reading.js",
    "marking.js",
    "page-dom.js",
    "page-exercise.js",
    "page-memory.js",
    "page-numeric.js",
    "page-whole.js",
    "page.js",
    "fonts/mathematics.woff2",
    "fonts/text-bold.woff2",
    "fonts/text-italic.woff2",
    "fonts/text-regular.woff2",
];
