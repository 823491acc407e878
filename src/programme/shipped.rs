//! The curriculum and banks built into the program.

/// Path and text of each file, as in the repository.
macro_rules! shipped {
    ($($path:literal),* $(,)?) => { &[$(($path, include_str!(concat!("../../", $path)))),*] };
}

/// All shipped files. A test holds this list to the folders.
pub static FILES: &[(&str, &str)] = shipped![
    "curriculum/03-ink.yaml",
    "curriculum/04-anilox.yaml",
    "curriculum/05-plates.yaml",
    "curriculum/09-measuring.yaml",
    "curriculum/cautions.yaml",
    "curriculum/plan.yaml",
    "curriculum/programme.yaml",
    "question-banks/anilox.yaml",
    "question-banks/ink-deck.yaml",
    "question-banks/ink.yaml",
    "question-banks/plates.yaml",
    "question-banks/tone.yaml",
];
