//! Files that are no files, or whose bytes are no text.

use std::fs;
use std::time::{Duration, Instant};

use crate::sitting::{Class, facts};
use crate::{answered, counted, everything, marked, refusal, sitting_of};

/// A return's text in another encoding.
fn utf_16(text: &str, to_bytes: fn(u16) -> [u8; 2]) -> Vec<u8> {
    "\u{feff}".encode_utf16().chain(text.encode_utf16()).flat_map(to_bytes).collect()
}

/// Marks the folder twice, and holds that the second run adds nothing.
fn marked_twice(class: &Class, good: usize, refused: &[(&str, &str)]) {
    let begun = Instant::now();
    let (status, value, faults) = marked(class, &["returns"]);
    assert!(begun.elapsed() < Duration::from_mins(1), "it hangs on something");
    assert_eq!(status, 1, "{value}");
    assert_eq!(value["taken"].as_array().map(Vec::len), Some(good), "{value}");
    assert_eq!(value["refused"], refused.len(), "{faults:?}");
    for (name, why) in refused {
        let fault = refusal(&faults, &format!("returns/{name}"));
        assert!(fault["message"].as_str().expect("a reason").contains(why), "{name}: {fault}");
    }
    let (before, pages) = (facts(&class.records()).len(), everything(&class.folder.join("out/mark")));
    assert_eq!(counted(class).0, good);
    let (status, value, again) = marked(class, &["returns"]);
    assert_eq!((status, &value["already"], &value["facts"]), (1, &good.into(), &0.into()));
    assert_eq!(again.len(), faults.len(), "the same are refused again: {again:?}");
    assert_eq!(facts(&class.records()).len(), before, "nothing is doubled");
    assert!(everything(&class.folder.join("out/mark")) == pages, "the same is given back");
}

#[cfg(unix)]
#[test]
fn what_is_no_plain_file_is_refused_at_once_and_the_others_are_marked() {
    use std::os::unix::fs::symlink;
    use std::os::unix::net::UnixListener;
    let class = sitting_of(3);
    for number in [1, 2] {
        class.save(&format!("good-{number}.json"), &answered(&class, number, "1").to_string());
    }
    let returns = class.folder.join("returns");
    let made =
        std::process::Command::new("mkfifo").arg(returns.join("pipe.json")).arg(returns.join("pipe.csv")).status();
    assert!(made.expect("mkfifo runs").success());
    let _socket = UnixListener::bind(returns.join("socket.json")).expect("a socket");
    symlink("/dev/zero", returns.join("endless.json")).expect("a link");
    symlink("/dev/zero", returns.join("endless.csv")).expect("a link");
    symlink("nowhere.json", returns.join("dangling.json")).expect("a link");
    symlink("round.json", returns.join("round.json")).expect("a link");
    symlink(class.records(), returns.join("records.json")).expect("a link");
    fs::create_dir(returns.join("folder.json")).expect("a folder");
    let file = "not a regular file";
    let mut refused = vec![
        ("pipe.json", file),
        ("pipe.csv", file),
        ("socket.json", file),
        ("endless.json", file),
        ("endless.csv", file),
        ("folder.json", file),
        ("dangling.json", "cannot read"),
        ("round.json", "cannot read"),
        ("records.json", ""),
    ];
    // A link to a return that lies elsewhere is that return.
    fs::write(class.folder.join("elsewhere.json"), answered(&class, 3, "2").to_string()).expect("a file");
    symlink("../elsewhere.json", returns.join("linked.json")).expect("a link");
    // Whoever may read everything is not kept from it.
    class.save("locked.json", "{}");
    let locked = returns.join("locked.json");
    fs::set_permissions(&locked, std::os::unix::fs::PermissionsExt::from_mode(0o000)).expect("locked");
    refused.push(("locked.json", if fs::read(&locked).is_ok() { "no return" } else { "cannot open" }));
    marked_twice(&class, 3, &refused);
}

#[test]
fn bytes_that_are_no_return_are_refused_by_name_and_the_others_are_marked() {
    let class = sitting_of(2);
    let good = answered(&class, 1, "0,81 µm").to_string();
    class.save("good.json", &good);
    let other = answered(&class, 2, "0,81 µm").to_string();
    let (half, rest) = other.split_at(other.len() / 2);
    let latin_1: Vec<u8> = other.chars().map(|c| u8::try_from(c).expect("it is in there")).collect();
    let opened = |text: &str| text.repeat(100_000).into_bytes();
    let cases: Vec<(&str, Vec<u8>, &str)> = vec![
        ("junk.json", b"x".repeat(10_000_000), "longer than"),
        ("junk.csv", b"\x00\xffx".repeat(3_000_000), "not UTF-8"),
        ("empty.json", Vec::new(), "nothing in this file"),
        ("blank.json", b" \n\t\n".to_vec(), "nothing in this file"),
        ("empty.csv", Vec::new(), "nothing in this file"),
        ("utf-16-le.json", utf_16(&other, u16::to_le_bytes), "not UTF-8"),
        ("utf-16-be.json", utf_16(&other, u16::to_be_bytes), "not UTF-8"),
        ("latin-1.json", latin_1, "byte 0xB5"),
        ("zero.json", format!("{half}\0{rest}").into_bytes(), "no return"),
        ("zeros.json", vec![0; 5000], "no return"),
        ("deep-lists.json", opened("["), "list"),
        ("deep-maps.json", opened("{\"a\":"), "no return"),
        ("deep-answers.json", [b"{\"answers\":".to_vec(), opened("[")].concat(), "no return"),
        ("deep-unknown.json", [b"{\"more\":".to_vec(), opened("[")].concat(), "no return"),
        ("two-in-one.json", format!("{other}\n{other}").into_bytes(), "no return"),
    ];
    for (name, bytes, _) in &cases {
        class.save_bytes(name, bytes);
    }
    let refused: Vec<(&str, &str)> = cases.iter().map(|(name, _, why)| (*name, *why)).collect();
    marked_twice(&class, 1, &refused);
    // With a byte order mark and other ends of lines it is the same return.
    class.save("marked.json", &format!("\u{feff}{}\r\n", other.replace(",\"", ",\r\n\"")));
    assert_eq!(marked(&class, &["returns/marked.json"]).0, 0);
    assert_eq!(counted(&class).0, 2);
}

#[test]
fn a_return_that_was_cut_off_at_any_place_is_never_taken() {
    let class = sitting_of(2);
    class.save("good.json", &answered(&class, 1, "1").to_string());
    let other = answered(&class, 2, "12 µm").to_string();
    let ends: Vec<usize> = (0..other.len()).step_by(9).filter(|end| other.is_char_boundary(*end)).collect();
    assert!(ends.len() > 20, "{}", other.len());
    for end in &ends {
        class.save(&format!("cut-{end:05}.json"), &other[..*end]);
    }
    let names: Vec<String> = ends.iter().map(|end| format!("cut-{end:05}.json")).collect();
    let why = |end: usize| if end == 0 { "nothing in this file" } else { "cut off" };
    let refused: Vec<(&str, &str)> = names.iter().zip(&ends).map(|(name, end)| (name.as_str(), why(*end))).collect();
    marked_twice(&class, 1, &refused);
}

#[cfg(target_os = "linux")]
#[test]
fn a_return_is_found_whatever_its_file_is_called_and_no_name_steers_the_terminal() {
    use std::os::unix::ffi::OsStrExt as _;
    let names: [&[u8]; 6] = [
        b"-x.json",
        b"line\nbreak.json",
        b"\x1b[2Jwipe.json",
        b"not-\xff-text.json",
        "\u{202e}nosj.JSON".as_bytes(),
        b"a b (1).json",
    ];
    let class = sitting_of(names.len());
    for (number, name) in (1..).zip(names) {
        crate::save_as(&class, std::ffi::OsStr::from_bytes(name), &answered(&class, number, "1").to_string());
    }
    class.save("\u{1b}[31mred\n.json", "{");
    class.save("\u{1b}[31maside\n.txt", "");
    // Nor does what stands in a file.
    let mut steering = answered(&class, 1, "1");
    steering["quiz"] = "week\u{1b}[31m\u{202e}-1".into();
    class.save("steering.json", &steering.to_string());
    let long = answered(&class, 1, "1")
        .to_string()
        .replace("\"docket\":\"", &format!("\"docket\":\"\u{9b}{}", "x".repeat(500_000)));
    class.save("long.json", &long);
    let (status, _, err) = class.run(&["mark", "week-12", "returns"]);
    assert!(status == 1 && err.contains("6 taken, 0 on record already, 3 refused"), "{err}");
    assert!(err.len() < 10_000, "{} bytes are said", err.len());
    assert!(err.chars().all(|c| c == '\n' || !(c.is_control() || c == '\u{202e}')), "{err:?}");
    assert!(err.contains("line\\u{a}break.json") && err.contains("-x.json"), "{err}");
    let (status, _, err) = class.run(&["mark", "week-12", "returns"]);
    assert!(status == 1 && err.contains("0 taken, 6 on record already, 3 refused"), "{err}");
    assert_eq!(counted(&class).0, names.len());
    // By itself, as the shell hands it over.
    assert_eq!(class.run(&["mark", "week-12", "--", "returns/-x.json"]).0, 0);
}

#[test]
fn a_folder_says_what_of_it_was_not_looked_at() {
    let class = sitting_of(2);
    class.save("good.json", &answered(&class, 1, "1").to_string());
    class.save("returns.zip", "PK");
    class.save(".hidden.json", "{");
    fs::create_dir(class.folder.join("returns/second-table")).expect("a folder");
    let (status, _, faults) = marked(&class, &["returns"]);
    assert_eq!(status, 0, "{faults:?}");
    let [(_, remark)] = &faults[..] else { panic!("{faults:?}") };
    assert_eq!(remark["weight"], "remark");
    let message = remark["message"].as_str().expect("a message");
    assert!(
        message.contains("returns.zip") && message.contains("second-table") && !message.contains("hidden"),
        "{message}"
    );
    assert!(remark["mend"].as_str().expect("a mend").contains("unpack"));
}

#[test]
fn what_is_often_named_instead_of_a_return_is_refused_with_the_way_out() {
    let class = sitting_of(2);
    class.save("good.json", &answered(&class, 1, "1").to_string());
    class.save("all of them.ZIP", "PK");
    class.save("marking.xlsx", "PK");
    class.save("scan.pdf", "%PDF");
    fs::copy(class.folder.join("out/quiz/week-12/docket-a-02.html"), class.folder.join("returns/docket-a-02.html"))
        .expect("copied");
    for (name, mend) in [
        ("all of them.ZIP", "unpack"),
        ("marking.xlsx", "CSV"),
        ("scan.pdf", "marking.csv"),
        ("docket-a-02.html", "close the docket"),
    ] {
        let path = format!("returns/{name}");
        let (status, value, faults) = marked(&class, &[&path, "returns/good.json"]);
        assert_eq!((status, &value["refused"]), (1, &1.into()), "{name}");
        let fault = refusal(&faults, &path);
        assert!(fault["mend"].as_str().expect("a mend").contains(mend), "{fault}");
    }
    assert_eq!(counted(&class).0, 1);
}

#[test]
fn a_named_file_that_is_missing_is_wrong_usage_and_nothing_is_taken() {
    let class = sitting_of(2);
    class.save("good.json", &answered(&class, 1, "1").to_string());
    let before = facts(&class.records()).len();
    for arguments in [
        &["mark", "week-12", "returns/good.json", "returns/goood.json"][..],
        &["mark", "week-12", "returns", "--count", "goood.json"],
        &["mark", "week-12", "no-folder"],
        &["mark", "week-12", "returns", "--count", "returns"],
        &["mark", "week-12", "curriculum"],
        &["mark", "returns"],
        &["mark", "week-13", "returns"],
    ] {
        let (status, out, err) = class.run(arguments);
        assert_eq!((status, out.as_str()), (2, ""), "{arguments:?}: {err}");
        assert!(err.contains("mend: "), "{arguments:?}: {err}");
    }
    assert_eq!(facts(&class.records()).len(), before);
}
