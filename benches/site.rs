//! How long the whole default site takes, and how much memory: run with
//! `cargo bench --bench site`. It fails above the limits that the project promises.

use std::time::{Duration, Instant};

use gearside::pages::{Order, site};
use gearside::programme::{Origin, load};
use gearside::proof::{USUAL_PULLS, prove};

/// The whole site, loading included.
const MOST_TIME: Duration = Duration::from_secs(1);
/// The most memory, in kB, where the system tells.
const MOST_MEMORY: u64 = 150_000;
/// How often each thing is timed; the best counts, since the machine may be busy.
const RUNS: usize = 5;

fn best(mut run: impl FnMut()) -> Duration {
    let once = |run: &mut dyn FnMut()| {
        let start = Instant::now();
        run();
        start.elapsed()
    };
    (0..RUNS).map(|_| once(&mut run)).min().unwrap_or_default()
}

/// The highest resident memory of this process so far, in kB.
fn peak_memory() -> Option<u64> {
    let status = std::fs::File::open("/proc/self/status").ok()?;
    let text = std::io::read_to_string(status).ok()?;
    text.lines().find_map(|line| line.strip_prefix("VmHWM:")?.trim().strip_suffix(" kB")?.trim().parse().ok())
}

fn programme() -> gearside::programme::Programme {
    load(&Origin::Shipped).expect("the built-in programme").programme.expect("a programme")
}

fn main() {
    let order = Order { seed: "1".to_owned(), stage: None, template_folder: None };
    let loading = best(|| drop(programme()));
    let whole = best(|| drop(site(&programme(), &order)));
    let memory = peak_memory();
    let pages = site(&programme(), &order).expect("a site");
    let largest = pages.workbook.iter().map(|(_, bytes)| bytes.len()).max().unwrap_or(0);
    let proving = {
        let programme = programme();
        let start = Instant::now();
        drop(prove(&programme, USUAL_PULLS, true));
        start.elapsed()
    };
    let lines = format!(
        "load {loading:?}, load and build {whole:?} (build is {:.0} % of it), {} pages, largest {largest} bytes, peak memory {memory:?} kB, prove {proving:?} ({:.1} × the build)\n",
        100.0 * (whole.saturating_sub(loading)).as_secs_f64() / whole.as_secs_f64(),
        pages.workbook.len(),
        proving.as_secs_f64() / whole.as_secs_f64(),
    );
    std::io::Write::write_all(&mut std::io::stdout(), lines.as_bytes()).expect("printed");
    assert!(whole < MOST_TIME, "the site took {whole:?}");
    assert!(memory.is_none_or(|kilobytes| kilobytes < MOST_MEMORY), "memory rose to {memory:?} kB");
    assert!(largest < 1_000_000, "a page has {largest} bytes");
}
