//! The command line of `record` as plain data.

use std::path::PathBuf;

use clap::{Args, Subcommand};

/// What to put on record.
#[derive(Debug, Subcommand)]
pub(super) enum RecordCommand {
    /// A person and a role: apprentice, assessor, coordinator or instructor
    #[command(
        after_help = "Examples:\n  gearside record person c-1 --role coordinator --name \"…\" --entered-by c-1      starts the records\n  gearside record person s-2 --role assessor --stages ink,anilox --name \"…\"\n  gearside record person --csv people.csv      columns code, name, role; or a OneRoster users.csv"
    )]
    Person(PersonArguments),
    /// Someone goes away: nothing happens on those days
    #[command(after_help = "Example: gearside record leave a-3 --from 2026-10-05 --note \"parental leave\"")]
    Leave(MoveArguments),
    /// Someone comes back
    #[command(after_help = "Example: gearside record return a-3 --from 2026-10-19")]
    Return(MoveArguments),
    /// What was taught in a week, where it is other than the plan
    #[command(after_help = "Example: gearside record taught --week 7 choose-an-anilox-roll fit-and-read-a-blade")]
    Taught(TaughtArguments),
    /// Hours on a process line: a competency or a stage
    #[command(
        after_help = "Examples:\n  gearside record hours a-1 --line load-an-ink-deck --on 2026-11-02 --start 06:00 --end 09:30 --supervisor s-1\n  gearside record hours a-1 --line press --sort prior --hours 40 --supervisor s-1 --note \"from a former employer\"\n  gearside record hours --csv hours.csv      columns person, line, date, start, end; and supervisor, sort, hours, seen_by, paper, note"
    )]
    Hours(HoursArguments),
    /// An observation at work, criterion by criterion
    #[command(
        after_help = "Example: gearside record observed a-1 set-kiss-impression --seen-by s-1 --press \"eight-station in-line\" --job J-118 --all-seen\n         gearside record observed a-1 set-kiss-impression --seen-by s-1 --press \"ten-inch\" --job J-119 --seen 1-4,6 --not-yet 5 --aided\n         gearside record observed --csv observed.csv      columns person, competency, date, seen_by, press, job, criteria (1-4 seen; 5 not yet); and material, ink, aided, paper, note"
    )]
    Observed(ObservedArguments),
    /// An apprentice asks to be signed off: ready stays ready for 30 days
    #[command(after_help = "Example: gearside record request a-1 set-kiss-impression")]
    Request(CompetencyArguments),
    /// A sign-off, acknowledged by the apprentice
    #[command(
        after_help = "Examples:\n  gearside record signoff a-1 set-kiss-impression --seen-by s-1 --acknowledged 2026-11-20 --paper \"folder 3, page 12\"\n  gearside record signoff a-1 plan-a-run --seen-by s-1 --acknowledged 2026-11-20 --despite \"press down for a month\" --second c-1\n  gearside record signoff --csv signoffs.csv      columns person, competency, date, seen_by, acknowledged; and paper, note"
    )]
    Signoff(SignoffArguments),
    /// A sign-off is withdrawn
    #[command(
        after_help = "Example: gearside record withdraw a-1 set-kiss-impression --seen-by s-1 --why \"worked on a turning roll\""
    )]
    Withdraw(WhyArguments),
    /// A competency is held until an assessor has looked at it
    #[command(after_help = "Example: gearside record hold a-1 set-kiss-impression --why \"reached towards a nip\"")]
    Hold(WhyArguments),
    /// A hold is released: an assessor has talked it through
    #[command(
        after_help = "Example: gearside record release a-1 set-kiss-impression --seen-by s-1 --why \"talked through the order of making safe\""
    )]
    Release(WhyArguments),
    /// One fact stands in for another, or strikes it out
    #[command(
        after_help = "Examples:\n  gearside record correct 118 job=J-120 --why \"wrong job number\"\n  gearside record correct 131 --strike --why \"was another apprentice\"\n  gearside record correct 245 mark=1 --why \"the question could be read two ways\"     overrides one mark of a quiz"
    )]
    Correct(CorrectArguments),
    /// Something else that the programme records: agreement, review, credit …
    #[command(
        after_help = "Example: gearside record event a-1 review --on 2026-11-12 --note \"agreed on more time at the press\""
    )]
    Event(EventArguments),
    /// What a judge expects of someone who is just competent
    #[command(after_help = "Example: gearside record judged film-on-the-web --expect \"70 %\" --seen-by s-1")]
    Judged(JudgedArguments),
    /// Erases a person's name and notes for good; the chain still walks
    #[command(after_help = "Example: gearside record redact a-7 --why \"five years after leaving\" --yes")]
    Redact(RedactArguments),
    /// Copies the records whole, even while someone writes
    #[command(after_help = "Example: gearside record backup /media/stick/records-2026-11-25.db")]
    Backup {
        /// The file to write; it must not exist yet
        #[arg(value_name = "FILE")]
        target: PathBuf,
    },
}

/// Who says so, and since when.
#[derive(Debug, Clone, Args)]
pub(super) struct Said {
    /// Who saw it, by code (default: who enters it)
    #[arg(long, value_name = "CODE")]
    pub(super) seen_by: Option<String>,
    /// The day it was seen, as 2026-11-20 (default: today)
    #[arg(long = "on", value_name = "DATE")]
    pub(super) on: Option<String>,
    /// Who enters it, by code (default: the one coordinator on record)
    #[arg(long, value_name = "CODE")]
    pub(super) entered_by: Option<String>,
    /// The number or digest of the signed page
    #[arg(long, value_name = "TEXT")]
    pub(super) paper: Option<String>,
    /// A text said with it; it can be erased one day
    #[arg(long, value_name = "TEXT")]
    pub(super) note: Option<String>,
    /// Only look whether it could go on record
    #[arg(long)]
    pub(super) dry_run: bool,
}

/// Facts from a file instead of the command line.
#[derive(Debug, Clone, Args)]
pub(super) struct FromFile {
    /// Record every line of this CSV file, or none; its columns are named as the options are
    #[arg(long, value_name = "FILE")]
    pub(super) csv: Option<PathBuf>,
}

#[derive(Debug, Args)]
pub(super) struct PersonArguments {
    /// The person's code: letters, digits, hyphens, full stops
    #[arg(value_name = "CODE", required_unless_present = "csv")]
    pub(super) person: Option<String>,
    /// The role: apprentice, assessor, coordinator or instructor
    #[arg(long, value_name = "ROLE", required_unless_present = "csv")]
    pub(super) role: Option<String>,
    /// The name; it lies beside the chain and can be erased
    #[arg(long, value_name = "TEXT")]
    pub(super) name: Option<String>,
    /// The first day of the role (default: today)
    #[arg(long, value_name = "DATE")]
    pub(super) from: Option<String>,
    /// The last day of the role
    #[arg(long, value_name = "DATE")]
    pub(super) until: Option<String>,
    /// The stages an assessor may sign (default: all)
    #[arg(long, value_name = "IDS")]
    pub(super) stages: Option<String>,
    /// An apprentice's class
    #[arg(long, value_name = "TEXT")]
    pub(super) class: Option<String>,
    #[command(flatten)]
    pub(super) said: Said,
    #[command(flatten)]
    pub(super) file: FromFile,
}

#[derive(Debug, Args)]
pub(super) struct MoveArguments {
    /// The person's code
    #[arg(value_name = "CODE", required_unless_present = "csv")]
    pub(super) person: Option<String>,
    /// The first day (default: today)
    #[arg(long, value_name = "DATE")]
    pub(super) from: Option<String>,
    #[command(flatten)]
    pub(super) said: Said,
    #[command(flatten)]
    pub(super) file: FromFile,
}

#[derive(Debug, Args)]
pub(super) struct TaughtArguments {
    /// What was taught
    #[arg(value_name = "COMPETENCY", required_unless_present = "csv")]
    pub(super) competencies: Vec<String>,
    /// The week of the plan
    #[arg(long, value_name = "N", required_unless_present = "csv")]
    pub(super) week: Option<u32>,
    /// The class, if not all
    #[arg(long, value_name = "TEXT")]
    pub(super) class: Option<String>,
    #[command(flatten)]
    pub(super) said: Said,
    #[command(flatten)]
    pub(super) file: FromFile,
}

#[derive(Debug, Args)]
pub(super) struct HoursArguments {
    /// The apprentice's code
    #[arg(value_name = "CODE", required_unless_present = "csv")]
    pub(super) person: Option<String>,
    /// The process line: a competency, or a stage
    #[arg(long, value_name = "ID", required_unless_present = "csv")]
    pub(super) line: Option<String>,
    /// When they began, as 06:00
    #[arg(long, value_name = "TIME")]
    pub(super) start: Option<String>,
    /// When they ended; an end before the start is on the next day
    #[arg(long, value_name = "TIME")]
    pub(super) end: Option<String>,
    /// How they were spent: on-the-job, instruction or prior
    #[arg(long, value_name = "SORT")]
    pub(super) sort: Option<String>,
    /// How many hours, for prior ones
    #[arg(long, value_name = "N")]
    pub(super) hours: Option<String>,
    /// Who supervised, by code (default: who saw it)
    #[arg(long, value_name = "CODE")]
    pub(super) supervisor: Option<String>,
    #[command(flatten)]
    pub(super) said: Said,
    #[command(flatten)]
    pub(super) file: FromFile,
}

#[derive(Debug, Args)]
pub(super) struct ObservedArguments {
    /// The apprentice's code
    #[arg(value_name = "CODE", required_unless_present = "csv")]
    pub(super) person: Option<String>,
    /// The competency
    #[arg(value_name = "COMPETENCY", required_unless_present = "csv")]
    pub(super) competency: Option<String>,
    /// Every criterion was seen
    #[arg(long)]
    pub(super) all_seen: bool,
    /// The criteria that were seen, by number: 1-4,6
    #[arg(long, value_name = "NUMBERS", conflicts_with = "all_seen")]
    pub(super) seen: Option<String>,
    /// The criteria that were tried and are not there yet
    #[arg(long, value_name = "NUMBERS", conflicts_with = "all_seen")]
    pub(super) not_yet: Option<String>,
    /// The criteria that were left out, or had no occasion
    #[arg(long, value_name = "NUMBERS", conflicts_with = "all_seen")]
    pub(super) not_seen: Option<String>,
    /// The press
    #[arg(long, value_name = "TEXT")]
    pub(super) press: Option<String>,
    /// The job
    #[arg(long, value_name = "TEXT")]
    pub(super) job: Option<String>,
    /// The material
    #[arg(long, value_name = "TEXT")]
    pub(super) material: Option<String>,
    /// The ink system: water-based, solvent-based or uv-curing
    #[arg(long, value_name = "WORD")]
    pub(super) ink: Option<String>,
    /// There was help
    #[arg(long)]
    pub(super) aided: bool,
    #[command(flatten)]
    pub(super) said: Said,
    #[command(flatten)]
    pub(super) file: FromFile,
}

#[derive(Debug, Args)]
pub(super) struct CompetencyArguments {
    /// The apprentice's code
    #[arg(value_name = "CODE")]
    pub(super) person: String,
    /// The competency
    #[arg(value_name = "COMPETENCY")]
    pub(super) competency: String,
    #[command(flatten)]
    pub(super) said: Said,
}

#[derive(Debug, Args)]
pub(super) struct SignoffArguments {
    /// The apprentice's code
    #[arg(value_name = "CODE", required_unless_present = "csv")]
    pub(super) person: Option<String>,
    /// The competency
    #[arg(value_name = "COMPETENCY", required_unless_present = "csv")]
    pub(super) competency: Option<String>,
    /// The day on which the apprentice acknowledged it
    #[arg(long, value_name = "DATE", required_unless_present = "csv")]
    pub(super) acknowledged: Option<String>,
    /// Sign although evidence is missing, and why (never for a matter of safety)
    #[arg(long, value_name = "REASON", requires = "second", conflicts_with_all = ["note", "csv"])]
    pub(super) despite: Option<String>,
    /// Who stands by that beside the assessor, by code
    #[arg(long, value_name = "CODE", requires = "despite")]
    pub(super) second: Option<String>,
    #[command(flatten)]
    pub(super) said: Said,
    #[command(flatten)]
    pub(super) file: FromFile,
}

#[derive(Debug, Args)]
pub(super) struct WhyArguments {
    /// The apprentice's code
    #[arg(value_name = "CODE")]
    pub(super) person: String,
    /// The competency
    #[arg(value_name = "COMPETENCY")]
    pub(super) competency: String,
    /// Why
    #[arg(long, value_name = "REASON", conflicts_with = "note")]
    pub(super) why: Option<String>,
    #[command(flatten)]
    pub(super) said: Said,
}

#[derive(Debug, Args)]
pub(super) struct CorrectArguments {
    /// The number of the fact
    #[arg(value_name = "FACT")]
    pub(super) fact: u64,
    /// What is to be otherwise, named as the options are: job=J-120 on=2026-11-02
    #[arg(value_name = "name=value", required_unless_present = "strike")]
    pub(super) values: Vec<String>,
    /// Strike it out: nothing counts in its place
    #[arg(long, conflicts_with = "values")]
    pub(super) strike: bool,
    /// Why
    #[arg(long, value_name = "REASON")]
    pub(super) why: String,
    /// Who enters it, by code (default: the one coordinator on record)
    #[arg(long, value_name = "CODE")]
    pub(super) entered_by: Option<String>,
    /// Only look whether it could go on record
    #[arg(long)]
    pub(super) dry_run: bool,
}

#[derive(Debug, Args)]
pub(super) struct EventArguments {
    /// The person's code
    #[arg(value_name = "CODE", required_unless_present = "csv")]
    pub(super) person: Option<String>,
    /// The kind of event, as programme.yaml lists it
    #[arg(value_name = "EVENT", required_unless_present = "csv")]
    pub(super) event: Option<String>,
    #[command(flatten)]
    pub(super) said: Said,
    #[command(flatten)]
    pub(super) file: FromFile,
}

#[derive(Debug, Args)]
pub(super) struct JudgedArguments {
    /// The exercise
    #[arg(value_name = "EXERCISE", required_unless_present = "csv")]
    pub(super) exercise: Option<String>,
    /// The share of just competent apprentices that gets it right
    #[arg(long, value_name = "SHARE", required_unless_present = "csv")]
    pub(super) expect: Option<String>,
    #[command(flatten)]
    pub(super) said: Said,
    #[command(flatten)]
    pub(super) file: FromFile,
}

#[derive(Debug, Args)]
pub(super) struct RedactArguments {
    /// The person's code
    #[arg(value_name = "CODE")]
    pub(super) person: String,
    /// Why
    #[arg(long, value_name = "REASON")]
    pub(super) why: String,
    /// Yes, erase it: it cannot be brought back
    #[arg(long)]
    pub(super) yes: bool,
    /// Who enters it, by code (default: the one coordinator on record)
    #[arg(long, value_name = "CODE")]
    pub(super) entered_by: Option<String>,
}
