//! Holds the floors: a room imports only from lower ones, and rooms stay small.

#![expect(clippy::disallowed_methods, reason = "a test may panic with whatever the system says")]

use std::fs;
use std::path::{Path, PathBuf};

/// The rooms from the ground up.
const FLOORS: &[(&str, u32)] = &[
    ("ground", 0),
    ("measure", 1),
    ("trade", 2),
    ("formula", 3),
    ("prose", 4),
    ("programme", 5),
    ("pull", 6),
    ("picture", 7),
    ("marking", 8),
    ("proof", 9),
    ("records", 10),
    ("quiz", 11),
    ("pages", 12),
    ("exchange", 12),
    ("cli", 13),
];
/// The most lines of code a file may have before its tests.
const MOST_LINES: usize = 500;

fn floor(room: &str) -> Option<u32> {
    FLOORS.iter().find(|(name, _)| *name == room).map(|(_, floor)| *floor)
}

fn sources(folder: &Path, into: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).expect("a folder").map(|entry| entry.expect("an entry").path()) {
        if entry.is_dir() {
            sources(&entry, into);
        } else if entry.extension().is_some_and(|ending| ending == "rs") {
            into.push(entry);
        }
    }
}

/// The code of a file: no comments, nothing from its tests on.
fn code(path: &Path) -> String {
    let text = fs::read_to_string(path).expect("a file");
    let text = text.split("#[cfg(test)]\nmod tests {").next().unwrap_or_default().to_owned();
    text.lines().filter(|line| !line.trim_start().starts_with("//")).collect::<Vec<_>>().join("\n")
}

/// The rooms that code names after `crate::`, groups in braces included.
fn rooms_named(code: &str) -> Vec<String> {
    let mut rooms = Vec::new();
    for part in code.split("crate::").skip(1) {
        let group = part.strip_prefix('{').and_then(|rest| rest.split('}').next());
        let names = group.map_or_else(|| vec![part], |group| group.split(',').collect());
        rooms.extend(
            names.iter().map(|name| {
                name.trim().chars().take_while(|c| c.is_ascii_lowercase() || *c == '_').collect::<String>()
            }),
        );
    }
    rooms
}

#[test]
fn a_room_imports_only_from_lower_floors() {
    let src = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut files = Vec::new();
    sources(&src, &mut files);
    let mut wrong = Vec::new();
    for path in files {
        let inside = path.strip_prefix(&src).expect("inside src");
        let room = inside
            .components()
            .next()
            .expect("a room")
            .as_os_str()
            .to_string_lossy()
            .trim_end_matches(".rs")
            .to_owned();
        if room == "main" || room == "lib" {
            continue;
        }
        let Some(own) = floor(&room) else {
            wrong.push(format!("{}: the room `{room}` is not on the map", inside.display()));
            continue;
        };
        let code = code(&path);
        for used in rooms_named(&code) {
            if let Some(other) = floor(&used).filter(|_| used != room)
                && other >= own
            {
                wrong.push(format!("{}: {room} (floor {own}) reaches {used} (floor {other})", inside.display()));
            }
        }
        let lines = code.lines().filter(|line| !line.trim().is_empty()).count();
        if lines > MOST_LINES {
            wrong.push(format!("{}: {lines} lines of code", inside.display()));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn the_map_of_rooms_names_every_room() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let map = fs::read_to_string(root.join("src/lib.rs")).expect("the map");
    for entry in fs::read_dir(root.join("src"))
        .expect("src")
        .map(|entry| entry.expect("an entry").path())
        .filter(|path| path.is_dir())
    {
        let room = entry.file_name().expect("a name").to_string_lossy().into_owned();
        assert!(
            map.contains(&format!("[`{room}`]")) && map.contains(&format!("pub mod {room};")),
            "{room} is not on the map"
        );
        let doc = fs::read_to_string(entry.join("mod.rs")).expect("a module");
        assert!(
            doc.starts_with("//!") && doc.contains("//! ```") && doc.to_lowercase().contains("import"),
            "{room} has no module doc with imports and an example"
        );
    }
}

#[test]
fn what_is_built_in_is_what_lies_in_the_folders() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut lying = Vec::new();
    for folder in ["curriculum", "question-banks"] {
        for entry in fs::read_dir(root.join(folder)).expect("a folder") {
            lying.push(format!("{folder}/{}", entry.expect("an entry").file_name().to_string_lossy()));
        }
    }
    let mut built: Vec<String> =
        gearside::programme::SHIPPED_FILES.iter().map(|(path, _)| (*path).to_owned()).collect();
    lying.sort();
    built.sort();
    assert_eq!(lying, built);
    let mut templates: Vec<String> = gearside::pages::default_templates().into_iter().map(|(name, _)| name).collect();
    let mut lying = Vec::new();
    let home = root.join("site-template");
    let mut folders = vec![home.clone()];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(&folder).expect("a folder").map(|entry| entry.expect("an entry").path()) {
            if entry.is_dir() {
                folders.push(entry);
            } else if ["html", "css", "js", "woff2", "yaml"]
                .iter()
                .any(|ending| entry.extension().is_some_and(|own| own == *ending))
            {
                lying.push(entry.strip_prefix(&home).expect("inside").to_string_lossy().replace('\\', "/"));
            }
        }
    }
    templates.sort();
    lying.sort();
    assert_eq!(lying, templates);
}
