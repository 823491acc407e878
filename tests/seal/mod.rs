//! What a docket must not hold, and ways to look for it.

#![allow(dead_code, reason = "each test uses its own part of it")]
#![allow(clippy::disallowed_methods, reason = "a test may panic with whatever the system says")]

pub(crate) mod other_keys;
pub(crate) mod secrets;
pub(crate) mod twin;

use std::fmt::Write as _;
use std::io::Write as _;

use base64::Engine as _;
use base64::engine::general_purpose::{STANDARD, URL_SAFE_NO_PAD};
use flate2::Compression;
use flate2::write::ZlibEncoder;

/// A text as it is, and in the wrappings that a page could carry it in.
pub(crate) fn wrappings(text: &str) -> Vec<(&'static str, String)> {
    let each = |write: &dyn Fn(&mut String, char)| {
        text.chars().fold(String::new(), |mut out, c| {
            write(&mut out, c);
            out
        })
    };
    let bytes = |write: &dyn Fn(u8) -> String| text.bytes().map(write).collect::<String>();
    let mut packed = ZlibEncoder::new(Vec::new(), Compression::default());
    packed.write_all(text.as_bytes()).expect("packed");
    let packed = packed.finish().expect("packed");
    vec![
        ("plain", text.to_owned()),
        ("as a comment", format!("<!-- {text} -->")),
        ("broken over lines", text.replace(' ', "\n  ")),
        ("with tags between", text.replacen(' ', "<b> </b>", 3)),
        ("as references", each(&|out, c| write!(out, "&#{};", u32::from(c)).expect("memory is written"))),
        (
            "as hexadecimal references",
            each(&|out, c| write!(out, "&#x{:x};", u32::from(c)).expect("memory is written")),
        ),
        ("escaped for JSON", each(&|out, c| write!(out, "\\u{:04x}", u32::from(c)).expect("memory is written"))),
        ("percent encoded", bytes(&|byte| format!("%{byte:02X}"))),
        ("hexadecimal", bytes(&|byte| format!("{byte:02x}"))),
        ("base64", STANDARD.encode(text)),
        ("base64 for addresses", URL_SAFE_NO_PAD.encode(text)),
        ("packed", STANDARD.encode(packed)),
        ("back to front", text.chars().rev().collect()),
    ]
}
