//! What a marking leaves behind: the folder that is given back, or nothing at all.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use crate::sitting::{Class, facts};
use crate::{answered, counted, everything, marked, refusal, sitting_of};

/// All that the pages of a folder lead to, by page.
fn links(folder: &Path) -> Vec<(String, String)> {
    let pages =
        everything(folder).into_iter().filter(|(path, _)| Path::new(path).extension().is_some_and(|one| one == "html"));
    pages
        .flat_map(|(path, bytes)| {
            let page = String::from_utf8(bytes).expect("text");
            let found: Vec<String> =
                page.split("href=\"").skip(1).filter_map(|rest| rest.split('"').next()).map(str::to_owned).collect();
            found.into_iter().map(move |href| (path.clone(), href))
        })
        .collect()
}

#[test]
fn the_folder_given_back_is_the_owners_alone_and_its_links_lead_somewhere() {
    let class = sitting_of(3);
    assert_eq!(class.run(&["workbook"]).0, 0);
    for number in 1..=3 {
        class.save(&format!("{number}.json"), &answered(&class, number, "about so").to_string());
    }
    for (output, workbook) in
        [("out/mark", "out/workbook"), ("out/deeper/still", "out/deeper/workbook"), ("given", "workbook")]
    {
        if !class.folder.join(workbook).exists() {
            assert_eq!(class.run(&["workbook", "-o", workbook]).0, 0);
        }
        let (status, value, faults) = marked(&class, &["returns", "-o", output]);
        assert_eq!((status, &value["folder"]), (0, &format!("{output}/week-12").into()), "{faults:?}");
        let folder = class.folder.join(output).join("week-12");
        let names: BTreeSet<String> =
            everything(&folder).into_keys().map(|path| path.rsplit('/').next().expect("a name").to_owned()).collect();
        let wanted =
            ["index.html", "marked-a-01.html", "marked-a-02.html", "marked-a-03.html", "marks.csv", ".gearside"];
        assert_eq!(names, wanted.map(str::to_owned).into());
        let (mut into_workbook, all) = (0, links(&folder));
        for (page, href) in all {
            let (file, anchor) = href.split_once('#').unwrap_or((href.as_str(), ""));
            let page = Path::new(&page);
            let target = if file.is_empty() { page.to_owned() } else { page.parent().expect("a folder").join(file) };
            assert!(target.is_file(), "{} leads to {href}, and nothing is there", page.display());
            into_workbook += usize::from(file.contains("workbook/"));
            let there = fs::read_to_string(&target).expect("a page");
            assert!(
                anchor.is_empty() || there.contains(&format!("id=\"{anchor}\"")),
                "{} leads to {href}",
                page.display()
            );
        }
        assert!(into_workbook >= 3, "{output}: only {into_workbook} links lead into the workbook");
    }
    #[cfg(unix)]
    for (path, _) in everything(&class.folder.join("out/mark")) {
        use std::os::unix::fs::PermissionsExt as _;
        let mode = fs::metadata(&path).expect("there").permissions().mode();
        assert_eq!(mode & 0o077, 0, "{path} can be opened by others");
    }
}

#[test]
fn a_folder_of_somebody_elses_is_left_alone_and_what_was_recorded_is_given_back_elsewhere() {
    let class = sitting_of(2);
    class.save("1.json", &answered(&class, 1, "1").to_string());
    fs::create_dir_all(class.folder.join("mine/week-12")).expect("a folder");
    fs::write(class.folder.join("mine/week-12/thesis.txt"), "years of work").expect("a file");
    let (status, _, err) = class.run(&["mark", "week-12", "returns", "-o", "mine"]);
    assert!(status == 2 && err.contains("left alone"), "{err}");
    assert_eq!(everything(&class.folder.join("mine/week-12")).len(), 1);
    assert_eq!(marked(&class, &["returns"]).0, 0);
    assert_eq!(counted(&class).0, 1, "it is taken once");
}

#[test]
fn a_look_writes_nothing_at_all() {
    let class = sitting_of(3);
    class.save("1.json", &answered(&class, 1, "1").to_string());
    class.save("junk.json", "{");
    class.save("a-2.json", &answered(&class, 2, "1").to_string());
    class.save("a-2-again.json", &answered(&class, 2, "2").to_string());
    let before = everything(&class.folder);
    for (more, status, taken) in [
        (&["returns"][..], 1, 1),
        (&["returns", "--count", "returns/a-2.json"], 1, 2),
        (&["returns", "--close"], 1, 1),
        (&["returns/1.json", "--close"], 0, 1),
        (&["--close"], 0, 0),
        (&[], 0, 0),
    ] {
        let (ended, value, faults) = marked(&class, &[&["--dry-run"], more].concat());
        assert_eq!((ended, value["taken"].as_array().map(Vec::len)), (status, Some(taken)), "{more:?}: {faults:?}");
        assert_eq!((&value["folder"], &value["dry_run"]), (&serde_json::Value::Null, &true.into()));
        assert!(everything(&class.folder) == before, "{more:?} left something behind");
    }
    // Once it is marked, a look leaves what was given back as it is.
    assert_eq!(marked(&class, &["returns"]).0, 1);
    let before = everything(&class.folder);
    class.save("3.json", &answered(&class, 3, "1").to_string());
    assert_eq!(marked(&class, &["returns/3.json", "--dry-run"]).1["taken"], serde_json::json!(["a-03"]));
    fs::remove_file(class.folder.join("returns/3.json")).expect("removed");
    assert!(everything(&class.folder) == before);
}

/// Three returns of one docket, of which two say the same.
fn of_three_minds(class: &Class) {
    for (name, answer) in [("one.json", "1"), ("two.json", "2"), ("same.json", "2")] {
        class.save(name, &answered(class, 1, answer).to_string());
    }
}

#[test]
fn the_file_that_is_named_to_count_counts_and_the_others_are_told_so_ever_after() {
    let class = sitting_of(2);
    of_three_minds(&class);
    let (status, value, faults) = marked(&class, &["returns"]);
    assert_eq!((status, &value["taken"]), (1, &serde_json::json!([])));
    let [(_, fault)] = &faults[..] else { panic!("{faults:?}") };
    let message = fault["message"].as_str().expect("a reason");
    assert!(["3 returns", "one.json", "two.json", "same.json"].iter().all(|name| message.contains(name)), "{message}");
    // Two that are named and differ leave it open.
    let both = ["returns", "--count", "returns/one.json", "--count", "returns/two.json"];
    let (status, _, faults) = marked(&class, &both);
    assert!(status == 1 && faults[0].1["message"].as_str().expect("a reason").contains("differ"), "{faults:?}");
    assert_eq!(counted(&class).0, 0);
    let (status, value, _) = marked(&class, &["returns", "--count", "./returns/two.json"]);
    assert_eq!((status, &value["taken"]), (0, &serde_json::json!(["a-01"])));
    // The one on record is on record, and the other says that it differs from it.
    let (status, value, faults) = marked(&class, &["returns"]);
    assert_eq!((status, &value["already"], &value["facts"]), (1, &1.into(), &0.into()), "{faults:?}");
    assert!(refusal(&faults, "returns/one.json")["message"].as_str().expect("a reason").contains("on record"));
    assert_eq!(faults.len(), 1);
    // Another may still be named; then that one counts.
    let (status, value, _) = marked(&class, &["--count", "returns/one.json"]);
    assert_eq!((status, &value["taken"]), (0, &serde_json::json!(["a-01"])));
    assert_eq!(refusal(&marked(&class, &["returns"]).2, "returns/two.json")["kind"], "two-returns");
    assert_eq!(class.run(&["audit"]).0, 0);
}

#[test]
fn a_quiz_is_closed_only_when_nothing_is_refused_and_closing_it_again_changes_nothing() {
    let class = sitting_of(3);
    class.save("1.json", &answered(&class, 1, "1").to_string());
    class.save("2.json", "{");
    let closings = || facts(&class.records()).iter().filter(|link| link.kind == "quiz-closed").count();
    let (status, _, err) = class.run(&["mark", "week-12", "returns", "--close"]);
    assert!(status == 1 && err.contains("stays open") && err.contains("1 taken"), "{err}");
    assert_eq!(closings(), 0);
    // What was refused is mended, and counts.
    class.save("2.json", &answered(&class, 2, "1").to_string());
    let (status, _, err) = class.run(&["mark", "week-12", "returns", "--close"]);
    assert!(status == 0 && err.contains("1 taken, 1 on record already, 0 refused; the quiz is closed"), "{err}");
    let before = facts(&class.records()).len();
    for more in [&["returns", "--close"][..], &["--close"], &["returns"], &[]] {
        let (status, value, faults) = marked(&class, more);
        assert_eq!((status, &value["facts"]), (0, &0.into()), "{more:?}: {faults:?}");
    }
    class.save("3.json", &answered(&class, 3, "1").to_string());
    let (status, _, faults) = marked(&class, &["returns"]);
    let fault = refusal(&faults, "returns/3.json");
    assert!(status == 1 && fault["message"].as_str().expect("a reason").contains("closed"), "{fault}");
    assert_eq!((closings(), facts(&class.records()).len()), (1, before));
}
