//! The curriculum and banks built into the program.

/// Path and text of each file, as in the repository.
macro_rules! shipped {
    ($($path:literal),* $(,)?) => { &[$(($path, include_str!(concat!("../../", $path)))),*] };
}

/// All shipped files. A test holds this list to the folders.
pub static FILES: &[(&str, &str)] = shipped![
    "curriculum/programme.yaml",
    "curriculum/cautions.yaml",
    "curriculum/plan.yaml",
    "curriculum/03-ink.yaml",
    "curriculum/04-anilox.yaml",
    "curriculum/05-plates.yaml",
    "curriculum/09-measuring.yaml",
    "question-banks/anilox.yaml",
    "question-banks/loading-a-deck.yaml",
    "question-banks/viscosity.yaml",
];
