//! How long each calculation of the catalogue takes: run with
//! `cargo bench --bench calculations`. It fails above the limits that the
//! project promises.

use std::hint::black_box;
use std::io::{self, Write};
use std::process::ExitCode;
use std::time::Instant;

use gearside::measure::unit;
use gearside::trade::{Calculation, Parameter, calculations};

/// The longest that a calculation may take, in nanoseconds.
const MOST_NANOSECONDS: f64 = 1000.0;
/// The same for one that takes a series.
const MOST_WITH_A_SERIES: f64 = 20_000.0;
/// How many values a series gets.
const SERIES: u32 = 12;
/// How often a calculation is carried out between two looks at the clock.
const CALLS: u32 = 2000;
/// How often it is timed; the best counts, since the machine may be busy.
const RUNS: usize = 9;
/// How many of the slowest are printed.
const SHOWN: usize = 10;

struct Timed {
    calculation: &'static Calculation,
    nanoseconds: f64,
}

impl Timed {
    fn most(&self) -> f64 {
        let takes_a_series = self.calculation.parameters.iter().any(|parameter| parameter.many);
        if takes_a_series { MOST_WITH_A_SERIES } else { MOST_NANOSECONDS }
    }
}

/// Values from the middle of the range, in SI; for a series, values that rise
/// through the range.
fn values(parameter: &Parameter) -> Vec<f64> {
    let unit = unit(parameter.unit).expect("a test holds each unit to the table");
    let at = |share: f64| unit.to_si(parameter.least + share * (parameter.most - parameter.least));
    if parameter.many {
        (0..SERIES).map(|step| at((f64::from(step) + 0.5) / f64::from(SERIES))).collect()
    } else {
        vec![at(0.5)]
    }
}

fn timed(calculation: &'static Calculation) -> Timed {
    let values: Vec<Vec<f64>> = calculation.parameters.iter().map(values).collect();
    let slices: Vec<&[f64]> = values.iter().map(Vec::as_slice).collect();
    let once = || {
        let start = Instant::now();
        for _ in 0..CALLS {
            black_box((calculation.compute)(black_box(&slices)));
        }
        start.elapsed().as_secs_f64() * 1e9 / f64::from(CALLS)
    };
    Timed { calculation, nanoseconds: (0..RUNS).map(|_| once()).fold(f64::INFINITY, f64::min) }
}

fn report(all: &[Timed], slow: &[&Timed]) -> io::Result<()> {
    let mut out = io::stdout().lock();
    writeln!(out, "{} calculations, the slowest:", all.len())?;
    for one in all.iter().take(SHOWN) {
        writeln!(out, "{:>8.1} ns  {}", one.nanoseconds, one.calculation.name)?;
    }
    for one in slow {
        let name = one.calculation.name;
        writeln!(out, "{name} takes {:.0} ns, more than {:.0} ns", one.nanoseconds, one.most())?;
    }
    Ok(())
}

fn main() -> io::Result<ExitCode> {
    let mut all: Vec<Timed> = calculations().map(timed).collect();
    all.sort_by(|a, b| b.nanoseconds.total_cmp(&a.nanoseconds));
    let slow: Vec<&Timed> = all.iter().filter(|one| one.nanoseconds > one.most()).collect();
    report(&all, &slow)?;
    Ok(if slow.is_empty() { ExitCode::SUCCESS } else { ExitCode::FAILURE })
}
