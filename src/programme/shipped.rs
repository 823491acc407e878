//! The curriculum and banks built into the program.

/// Path and text of each file, as in the repository.
macro_rules! shipped {
    ($($path:literal),* $(,)?) => { &[$(($path, include_str!(concat!("../../", $path)))),*] };
}

/// All shipped files. A test holds this list to the folders.
pub static FILES: &[(&str, &str)] = shipped![
    "curriculum/01-safety.yaml",
    "curriculum/02-press.yaml",
    "curriculum/03-ink.yaml",
    "curriculum/04-anilox.yaml",
    "curriculum/05-plates.yaml",
    "curriculum/06-impression.yaml",
    "curriculum/07-register.yaml",
    "curriculum/08-running.yaml",
    "curriculum/09-measuring.yaml",
    "curriculum/10-fingerprint.yaml",
    "curriculum/11-defects.yaml",
    "curriculum/12-closing.yaml",
    "curriculum/cautions.yaml",
    "curriculum/plan.yaml",
    "curriculum/programme.yaml",
    "question-banks/anilox.yaml",
    "question-banks/bar-codes.yaml",
    "question-banks/closing.yaml",
    "question-banks/colour.yaml",
    "question-banks/curve.yaml",
    "question-banks/defects-seen.yaml",
    "question-banks/defects.yaml",
    "question-banks/density.yaml",
    "question-banks/diagnosis.yaml",
    "question-banks/dials.yaml",
    "question-banks/figures.yaml",
    "question-banks/fingerprint.yaml",
    "question-banks/impression.yaml",
    "question-banks/ink-deck.yaml",
    "question-banks/ink-planning.yaml",
    "question-banks/ink-systems.yaml",
    "question-banks/ink.yaml",
    "question-banks/mounting.yaml",
    "question-banks/planning.yaml",
    "question-banks/plates.yaml",
    "question-banks/press.yaml",
    "question-banks/register-at-speed.yaml",
    "question-banks/register.yaml",
    "question-banks/rolls-and-blades.yaml",
    "question-banks/running.yaml",
    "question-banks/safety.yaml",
    "question-banks/tone.yaml",
    "question-banks/web-and-rolls.yaml",
    "question-banks/workings.yaml",
];
