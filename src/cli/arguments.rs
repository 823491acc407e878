//! The command line as plain data.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand};

use super::arguments_record::RecordCommand;

/// Training and assessment for pressroom apprentices.
#[derive(Debug, Parser)]
#[command(name = "gearside", version, about, arg_required_else_help = true, propagate_version = true)]
#[command(after_help = "Example: gearside workbook     builds out/workbook/index.html from the built-in programme")]
pub(super) struct Arguments {
    #[command(flatten)]
    pub(super) common: Common,
    #[command(subcommand)]
    pub(super) command: Command,
}

#[derive(Debug, Args)]
pub(super) struct Common {
    /// The programme's folder, with curriculum/ and question-banks/ (default: the working folder's, else the built-in programme)
    #[arg(long, global = true, value_name = "DIR")]
    pub(super) programme: Option<PathBuf>,
    /// Print results and faults as JSON
    #[arg(long, global = true)]
    pub(super) json: bool,
    /// Print nothing but results and faults
    #[arg(short, long, global = true)]
    pub(super) quiet: bool,
}

#[derive(Debug, Subcommand)]
pub(super) enum Command {
    /// Start a programme folder to make your own
    New(NewArguments),
    /// Prove curriculum and banks fit for use
    Prove(ProveArguments),
    /// Build the practice workbooks and the instructor's keys
    Workbook(WorkbookArguments),
    /// Work one trade calculation with its steps and source
    Work(WorkArguments),
    /// Show one exercise with key, working and wrong turns, as text
    Show(ShowArguments),
    /// Practise in the terminal: the same exercises, marked as you type
    Drill(DrillArguments),
    /// Propose and issue the week's quiz: a docket for each apprentice, the key for you
    Quiz(QuizArguments),
    /// Take what came back of a quiz, and mark it
    Mark(MarkArguments),
    /// Put facts on record: people, hours, observations, sign-offs …
    #[command(arg_required_else_help = true)]
    Record {
        /// What
        #[command(subcommand)]
        what: Box<RecordCommand>,
    },
    /// Build the coordinator's pages: board, training records, standing list
    Board(BoardArguments),
    /// Walk the chain of facts and look at every sign-off again
    Audit(AuditArguments),
    /// Print a completion script for a shell
    #[command(after_help = "Example: gearside completions bash > ~/.local/share/bash-completion/completions/gearside")]
    Completions {
        /// The shell
        shell: clap_complete::Shell,
    },
    /// Print the manual page
    #[command(after_help = "Example: gearside manual > gearside.1")]
    Manual,
}

#[derive(Debug, Args)]
#[command(
    after_help = "Example: gearside new makeready     then edit makeready/question-banks/*.yaml and run: gearside prove --programme makeready"
)]
pub(super) struct NewArguments {
    /// The folder to start; it must not exist yet, or be empty
    #[arg(value_name = "DIR")]
    pub(super) folder: PathBuf,
    /// Add an invented class with ten weeks behind it
    #[arg(long)]
    pub(super) demo: bool,
}

#[derive(Debug, Args)]
#[command(after_help = "Example: gearside prove question-banks/anilox.yaml --pulls 5000")]
pub(super) struct ProveArguments {
    /// Only these bank files (default: all, and the curriculum)
    #[arg(value_name = "FILE")]
    pub(super) files: Vec<PathBuf>,
    /// How many seeded pulls of an exercise that has more than 20,000
    #[arg(long, value_name = "N", default_value_t = crate::proof::USUAL_PULLS, value_parser = clap::value_parser!(u64).range(1..=1_000_000))]
    pub(super) pulls: u64,
}

#[derive(Debug, Args)]
#[command(after_help = "Example: gearside workbook --seed 7 -o out/week-12")]
pub(super) struct WorkbookArguments {
    /// The folder to build; the keys go to a folder beside it that ends in -keys [default: out/workbook, or out/gallery]
    #[arg(short, value_name = "DIR")]
    pub(super) output: Option<PathBuf>,
    /// The seed of all numbers: the same seed gives the same pages
    #[arg(long, value_name = "S", default_value = "1", value_parser = seed)]
    pub(super) seed: String,
    /// Only the stage of this id
    #[arg(long, value_name = "ID")]
    pub(super) stage: Option<String>,
    /// Build the gallery of figures instead
    #[arg(long, conflicts_with_all = ["stage", "seed"])]
    pub(super) gallery: bool,
    /// Write the built-in templates to this folder instead of building
    #[arg(long, value_name = "DIR", conflicts_with_all = ["stage", "gallery"])]
    pub(super) templates: Option<PathBuf>,
}

#[derive(Debug, Args)]
#[command(
    after_help = "Examples:\n  gearside work                                            lists all calculations\n  gearside work wet_film                                   explains one\n  gearside work wet_film volume=3.8BCM release=25% --in mil"
)]
pub(super) struct WorkArguments {
    /// The calculation (default: list all of them)
    #[arg(value_name = "CALCULATION")]
    pub(super) calculation: Option<String>,
    /// Its values, as name=value with any unit that fits
    #[arg(value_name = "name=value")]
    pub(super) values: Vec<String>,
    /// The unit of the result
    #[arg(long = "in", value_name = "UNIT")]
    pub(super) unit: Option<String>,
}

#[derive(Debug, Args)]
#[command(after_help = "Example: gearside show film-on-the-web --seed 7")]
pub(super) struct ShowArguments {
    /// The exercise's id
    #[arg(value_name = "EXERCISE")]
    pub(super) exercise: String,
    /// The seed
    #[arg(long, value_name = "S", default_value = "1", value_parser = seed)]
    pub(super) seed: String,
    /// The pull's number, counted from 0
    #[arg(long, value_name = "N", default_value_t = 0)]
    pub(super) pull: u64,
}

#[derive(Debug, Args)]
#[command(
    after_help = "Examples:\n  gearside drill                     all there is, mixed\n  gearside drill predict-ink-film    one competency\n  gearside drill anilox --seed 7     a stage, with the same numbers each time"
)]
pub(super) struct DrillArguments {
    /// A competency, a stage or an exercise (default: everything, mixed)
    #[arg(value_name = "COMPETENCY")]
    pub(super) about: Option<String>,
    /// The seed (default: a fresh one)
    #[arg(long, value_name = "S", value_parser = seed)]
    pub(super) seed: Option<String>,
}

#[derive(Debug, Args)]
#[command(
    after_help = "Examples:\n  gearside quiz --plan                           what this week's quiz would ask, and why\n  gearside quiz --with film-on-the-web           issues it: dockets in out/quiz/week-12, keys in out/quiz/week-12-key\n  gearside quiz --again week-12                  builds the same files again\n  gearside quiz --rehearse dry-run --blank 3     to try it out; never recorded"
)]
pub(super) struct QuizArguments {
    /// Only show what the quiz would ask, and why
    #[arg(long)]
    pub(super) plan: bool,
    /// The week of the plan (default: this week)
    #[arg(long, value_name = "N")]
    pub(super) week: Option<u32>,
    /// How long it may take (default: as plan.yaml says)
    #[arg(long, value_name = "M")]
    pub(super) minutes: Option<u32>,
    /// An exercise that must come
    #[arg(long, value_name = "ID")]
    pub(super) with: Vec<String>,
    /// An exercise that must not
    #[arg(long, value_name = "ID")]
    pub(super) without: Vec<String>,
    /// Only this competency
    #[arg(long, value_name = "COMPETENCY")]
    pub(super) only: Option<String>,
    /// Breaks ties: the same records and seed give the same quiz
    #[arg(long, value_name = "S", default_value = "1", value_parser = seed)]
    pub(super) seed: String,
    /// So many dockets without a name, besides those of the class
    #[arg(long, value_name = "N", default_value_t = 0, value_parser = clap::value_parser!(u32).range(0..=20_000), conflicts_with = "plan")]
    pub(super) blank: u32,
    /// More time for someone, such as a-3=25%
    #[arg(long, value_name = "CODE=SHARE", conflicts_with = "plan")]
    pub(super) more_time: Vec<String>,
    /// A second quiz in a week that has one
    #[arg(long, conflicts_with_all = ["plan", "rehearse"])]
    pub(super) another: bool,
    /// A rehearsal from this seed: the same numbers each time, and never recorded
    #[arg(long, value_name = "S", value_parser = seed, conflicts_with = "plan")]
    pub(super) rehearse: Option<String>,
    /// Build the files of an issued quiz again
    #[arg(long, value_name = "QUIZ", conflicts_with_all = ["plan", "week", "minutes", "with", "without", "only", "seed", "blank", "more_time", "another", "rehearse"])]
    pub(super) again: Option<String>,
    /// The folder for quizzes
    #[arg(short, value_name = "DIR", default_value = "out/quiz", conflicts_with = "plan")]
    pub(super) output: PathBuf,
    /// Who issues it, by code (default: the one coordinator on record)
    #[arg(long, value_name = "CODE", conflicts_with_all = ["plan", "rehearse", "again"])]
    pub(super) entered_by: Option<String>,
}

#[derive(Debug, Args)]
#[command(
    after_help = "Examples:\n  gearside mark week-12 returns/                  takes all returns of a folder, marks them, gives them back\n  gearside mark week-12 marking.csv --dry-run     looks at what was filled in from paper\n  gearside mark week-12 --close                   no return counts any more"
)]
pub(super) struct MarkArguments {
    /// The quiz, such as week-12
    #[arg(value_name = "QUIZ")]
    pub(super) quiz: String,
    /// Return files, marking CSVs, or folders of them (none: gives back what came so far)
    #[arg(value_name = "FILE")]
    pub(super) files: Vec<PathBuf>,
    /// Only look: nothing is recorded
    #[arg(long)]
    pub(super) dry_run: bool,
    /// Of returns that differ, the one that counts
    #[arg(long, value_name = "FILE")]
    pub(super) count: Vec<PathBuf>,
    /// Close the quiz: no return counts any more
    #[arg(long)]
    pub(super) close: bool,
    /// The folder for marked dockets and statistics
    #[arg(short, value_name = "DIR", default_value = "out/mark", conflicts_with = "dry_run")]
    pub(super) output: PathBuf,
    /// The day the quiz was sat (default: today)
    #[arg(long = "on", value_name = "DATE")]
    pub(super) on: Option<String>,
    /// Who marks, by code (default: the one coordinator on record)
    #[arg(long, value_name = "CODE")]
    pub(super) entered_by: Option<String>,
}

#[derive(Debug, Args)]
#[command(after_help = "Example: gearside board -o out/board     then open out/board/index.html")]
pub(super) struct BoardArguments {
    /// The folder to build
    #[arg(short, value_name = "DIR", default_value = "out/board")]
    pub(super) output: PathBuf,
    /// As things stand on this day (default: today)
    #[arg(long = "on", value_name = "DATE")]
    pub(super) on: Option<String>,
    /// Put names into board.csv and board.json too
    #[arg(long)]
    pub(super) names: bool,
}

#[derive(Debug, Args)]
#[command(
    after_help = "Examples:\n  gearside audit\n  gearside audit --head 1234:3f9a12bc0d5e77a1b2c3     is the record still the one that was printed?\n  gearside audit --export out/export --person a-7"
)]
pub(super) struct AuditArguments {
    /// A head from a printed page: the record must go on from it
    #[arg(long, value_name = "HEAD")]
    pub(super) head: Option<String>,
    /// Write everything out: facts, tables, checksums
    #[arg(long, value_name = "DIR")]
    pub(super) export: Option<PathBuf>,
    /// Export only what is about this person
    #[arg(long, value_name = "CODE", requires = "export")]
    pub(super) person: Option<String>,
    /// Put names into the export
    #[arg(long, requires = "export")]
    pub(super) names: bool,
    /// Put notes into the export
    #[arg(long, requires = "export")]
    pub(super) notes: bool,
}

/// A seed: any short text.
fn seed(text: &str) -> Result<String, String> {
    let fine = !text.is_empty() && text.chars().count() <= 40 && !text.chars().any(char::is_control);
    if fine { Ok(text.to_owned()) } else { Err("a seed is a text of 1 to 40 characters".to_owned()) }
}
