//! One file per command; the only room that prints.
//!
//! May import every room. Arguments become plain data first; then one function
//! per command does the work and says how it ended. Nobody else prints or
//! exits.
//!
//! ```
//! // The same definitions give the help, the completions and the manual page.
//! let command = gearside::cli::command();
//! assert!(command.get_subcommands().any(|one| one.get_name() == "workbook"));
//! ```

mod arguments;
mod arguments_record;
mod audit;
mod board;
pub mod demo;
mod drill;
mod filling;
mod keeping;
mod loading;
mod mark;
mod new;
mod out;
mod prove;
mod quiz;
mod record;
mod show;
mod work;
mod workbook;
mod working;

use std::process::ExitCode;

use clap::{CommandFactory, Parser};

use arguments::{Arguments, Command};
use out::{Ended, Out};

/// The command line as clap sees it.
#[must_use]
pub fn command() -> clap::Command {
    Arguments::command()
}

/// Runs the command line of this process.
#[must_use]
pub fn run() -> ExitCode {
    let arguments = match Arguments::try_parse() {
        Ok(arguments) => arguments,
        Err(error) => {
            let status = if error.use_stderr() { Ended::Usage } else { Ended::Done };
            // A closed pipe is no fault of ours.
            let _ = error.print();
            return status.into();
        }
    };
    let mut out = Out::new(arguments.common.quiet, arguments.common.json);
    let ended = dispatch(&arguments, &mut out);
    out.close(ended).into()
}

fn dispatch(arguments: &Arguments, out: &mut Out) -> Ended {
    let programme = arguments.common.programme.as_deref();
    match &arguments.command {
        Command::New(new) => new::run(new, out),
        Command::Prove(prove) => prove::run(prove, programme, out),
        Command::Workbook(workbook) => workbook::run(workbook, programme, out),
        Command::Work(work) => work::run(work, programme, out),
        Command::Show(show) => show::run(show, programme, out),
        Command::Drill(drill) => drill::run(drill, programme, out),
        Command::Quiz(quiz) => quiz::run(quiz, programme, out),
        Command::Mark(mark) => mark::run(mark, programme, out),
        Command::Record { what } => record::run(what, programme, out),
        Command::Board(board) => board::run(board, programme, out),
        Command::Audit(audit) => audit::run(audit, programme, out),
        Command::Completions { shell } => {
            let mut text = Vec::new();
            clap_complete::generate(*shell, &mut command(), "gearside", &mut text);
            out.bytes(&text);
            Ended::Done
        }
        Command::Manual => {
            let mut text = Vec::new();
            if clap_mangen::Man::new(command()).render(&mut text).is_err() {
                return Ended::Machine;
            }
            out.bytes(&text);
            Ended::Done
        }
    }
}

#[cfg(test)]
mod tests {
    #[test]
    fn the_command_line_is_sound() {
        super::command().debug_assert();
    }
}
