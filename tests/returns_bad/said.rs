//! Hostile text in answers and names: marked as what it is, shown as text.

use std::fs;

use crate::{answered, counted, marked, refusal, sitting_of};

#[test]
fn answers_of_any_characters_are_marked_and_given_back_as_text() {
    let answers = [
        "<script>alert(1)</script>",
        "\"><img src=x onerror=alert(1)>",
        "</style></title><b>&amp;",
        "{{ 7 * 7 }}{% raw %}",
        "\u{1f60a}\u{10ffff}\u{1d7d8}",
        "\u{202e}18.0 \u{2066}mm",
        "1e999999",
        "-0",
        "९,८",
        "=cmd()",
        "e\u{301}\u{200b}\u{feff}",
    ];
    let long = "\u{1f60a}".repeat(200);
    let class = sitting_of(answers.len() + 2);
    for (number, answer) in (1..).zip(answers.into_iter().chain([long.as_str()])) {
        class.save(&format!("{number}.json"), &answered(&class, number, answer).to_string());
    }
    let last = answers.len() + 2;
    for (name, answer) in [
        ("too-long.json", format!("{long}x")),
        ("two-lines.json", "1\n2".to_owned()),
        ("zero.json", "1\0".to_owned()),
        ("escape.json", "\u{1b}[2J".to_owned()),
    ] {
        class.save(name, &answered(&class, last, &answer).to_string());
    }
    let (status, value, faults) = marked(&class, &["returns"]);
    assert_eq!((status, value["taken"].as_array().map(Vec::len)), (1, Some(answers.len() + 1)), "{faults:?}");
    assert_eq!(value["refused"], 4);
    for (name, why) in [
        ("too-long.json", "longer than 200"),
        ("two-lines.json", "line break"),
        ("zero.json", "line break"),
        ("escape.json", "line break"),
    ] {
        let fault = refusal(&faults, &format!("returns/{name}"));
        assert!(fault["message"].as_str().expect("a reason").contains(why), "{fault}");
    }
    let page = |name: &str| fs::read_to_string(class.folder.join("out/mark/week-12").join(name)).expect("a page");
    for number in 1..=answers.len() {
        let page = page(&format!("marked-a-{number:02}.html"));
        assert!(!page.contains("<script") && !page.contains("<img src=x") && !page.contains("<b>&amp;"), "{number}");
        assert!(!page.contains('\u{202e}') && !page.contains('\u{2066}'), "{number}: it turns the text around");
    }
    assert!(page("marked-a-01.html").contains("&lt;script&gt;alert(1)"), "it is shown as it was typed");
    assert!(page("marked-a-04.html").contains("{{ 7 * 7 }}{% raw %}"), "it is no template");
    let index = page("index.html");
    assert!(!index.contains("<script>alert") && !index.contains("<img src=x") && !index.contains('\u{202e}'));
    let table = page("marks.csv");
    assert!(!table.lines().any(|row| row.contains(",=cmd")), "no cell is a formula: {table}");
    let (status, value, _) = marked(&class, &["returns"]);
    assert_eq!((status, &value["already"], counted(&class).0), (1, &(answers.len() + 1).into(), answers.len() + 1));
}

#[test]
fn a_name_is_text_on_every_page_and_in_no_file_name() {
    let class = sitting_of(1);
    for (code, name) in [("a-30", "<script>alert(2)</script>"), ("a-31", "../../\"Nan\" & 'Oh'")] {
        let (status, _, err) = class.run(&["record", "person", code, "--role", "apprentice", "--name", name]);
        assert_eq!(status, 0, "{err}");
    }
    let turned = class.run(&["record", "person", "a-32", "--role", "apprentice", "--name", "\u{202e}nnA"]);
    assert_eq!(turned.0, 1, "{}", turned.2);
    for (number, code) in [(1, "a-30"), (2, "a-31")] {
        let mut returned = class.blank_return(&format!("docket-blank-{number:03}.html"));
        returned["person"] = code.into();
        class.save(&format!("{number}.json"), &returned.to_string());
    }
    assert_eq!(marked(&class, &["returns"]).0, 0);
    let folder = class.folder.join("out/mark/week-12");
    let mut names: Vec<String> = crate::everything(&folder)
        .into_keys()
        .map(|path| path.rsplit('/').next().expect("a name").to_owned())
        .filter(|name| name != ".gearside")
        .collect();
    names.sort();
    assert_eq!(names, ["index.html", "marked-blank-001.html", "marked-blank-002.html", "marks.csv"]);
    for name in ["index.html", "marked-blank-001.html", "marked-blank-002.html"] {
        let page = fs::read_to_string(folder.join(name)).expect("a page");
        assert!(!page.contains("<script>alert"), "{name}");
    }
    let page = fs::read_to_string(folder.join("marked-blank-001.html")).expect("a page");
    assert!(page.contains("&lt;script&gt;alert(2)&lt;/script&gt;"));
}
