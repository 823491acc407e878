//! The one printer: results to stdout, all else to stderr.

use std::io::{self, IsTerminal, Write};
use std::process::ExitCode;

use crate::ground::files::{FolderFault, MachineFault};
use crate::ground::{Fault, Weight};

/// How a command ended. The later ones weigh more.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Ended {
    /// All done.
    Done,
    /// Content is at fault; what could be done was done.
    Content,
    /// Wrong usage.
    Usage,
    /// The machine failed.
    Machine,
}

impl From<Ended> for ExitCode {
    fn from(ended: Ended) -> Self {
        Self::from(ended as u8)
    }
}

/// Prints for one run.
#[derive(Debug)]
#[expect(clippy::struct_excessive_bools, reason = "each is a switch of its own")]
pub(super) struct Out {
    quiet: bool,
    pub(super) json: bool,
    colour: bool,
    faults: Vec<Fault>,
    result_printed: bool,
    failed: bool,
}

impl Out {
    pub(super) fn new(quiet: bool, json: bool) -> Self {
        let colour = io::stderr().is_terminal() && std::env::var_os("NO_COLOR").is_none_or(|value| value.is_empty());
        Self { quiet, json, colour, faults: Vec::new(), result_printed: false, failed: false }
    }

    /// A line of the result.
    pub(super) fn line(&mut self, text: &str) {
        self.bytes(format!("{text}\n").as_bytes());
    }

    /// A part of the result as it is.
    pub(super) fn bytes(&mut self, bytes: &[u8]) {
        let mut stdout = io::stdout().lock();
        self.keep(stdout.write_all(bytes).and_then(|()| stdout.flush()));
    }

    /// The result as JSON.
    pub(super) fn value(&mut self, value: &serde_json::Value) {
        self.result_printed = true;
        self.line(&serde_json::to_string_pretty(value).unwrap_or_default());
    }

    /// Something to know that is no result.
    pub(super) fn note(&mut self, text: &str) {
        if !self.quiet && !self.json {
            Self::say(text);
        }
    }

    /// A fault: printed at once as text, or kept for the JSON.
    pub(super) fn fault(&mut self, fault: &Fault) {
        self.faults.push(fault.clone());
        let hushed = self.quiet && fault.weight == Weight::Remark;
        if !(self.json || hushed) {
            Self::say(&format!("{}\n", fault.to_text(self.colour)));
        }
    }

    /// Faults of what was to be built; gives the way to end.
    pub(super) fn content(&mut self, faults: &[Fault]) -> Ended {
        faults.iter().for_each(|fault| self.fault(fault));
        Ended::Content
    }

    /// The faults so far, as JSON.
    pub(super) fn faults_json(&self) -> serde_json::Value {
        serde_json::to_value(&self.faults).unwrap_or_default()
    }

    /// Wrong usage, in words.
    pub(super) fn usage(&mut self, message: &str, mend: &str) -> Ended {
        self.fault(&Fault::new("usage", message, mend));
        Ended::Usage
    }

    /// The machine failed.
    pub(super) fn machine(&mut self, fault: &MachineFault) -> Ended {
        self.fault(&Fault::new(
            "machine",
            fault.to_string(),
            "look at the path, its permissions and the space on the disk",
        ));
        Ended::Machine
    }

    /// A folder could not be written.
    pub(super) fn folder(&mut self, fault: &FolderFault) -> Ended {
        match fault {
            FolderFault::Machine(fault) => self.machine(fault),
            FolderFault::NotOurs(path) => {
                let message =
                    format!("{} is not empty and was not built by gearside, so it is left alone", path.display());
                self.usage(&message, "name another folder, or empty this one yourself")
            }
        }
    }

    /// Ends the run: with `--json`, faults that no result carried are printed now.
    pub(super) fn close(mut self, ended: Ended) -> Ended {
        if self.json && !self.result_printed && !self.faults.is_empty() {
            let value = serde_json::json!({ "faults": self.faults_json() });
            self.value(&value);
        }
        if self.failed { ended.max(Ended::Machine) } else { ended }
    }

    fn say(text: &str) {
        let mut stderr = io::stderr().lock();
        // With no stderr left there is nobody to tell.
        let _ = writeln!(stderr, "{text}");
    }

    /// A broken pipe is success: whoever read has read enough.
    fn keep(&mut self, written: io::Result<()>) {
        if let Err(error) = written
            && error.kind() != io::ErrorKind::BrokenPipe
        {
            self.failed = true;
        }
    }
}
