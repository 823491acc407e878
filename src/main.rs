//! The `gearside` command.

fn main() -> std::process::ExitCode {
    gearside::cli::run()
}
